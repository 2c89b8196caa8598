"""Races that a design accepts (Q11): told with their reason, and nothing else with them."""

from __future__ import annotations

from pathlib import Path

import pytest

from verifier import load_text
from verifier.model.load import Loaded, load
from verifier.report.result import DesignResult, PropertyResult, exit_status
from verifier.report.text import design_text
from verifier.studies.options import Options
from verifier.studies.prove import prove

ROOT = Path(__file__).resolve().parents[2]
OUTSIDE = ROOT / "tests" / "outside" / "designs"
# Two shuttle valves behind the same two hands; the order in which air comes and goes decides.
SHUTTLES = """\
design shuttles
use standard
surroundings weather: fair, foul
supply tractor
part left: push_pull_3_2_spring
part right: push_pull_3_2_spring
part either[1..2]: shuttle_valve
part lamp[1..2]: visual_indicator
line air: tractor, left.1, right.1
line one: left.2, either[1..2].a
line two: right.2, either[1..2].b
line out[i in 1..2]: either[i].out, lamp[i].in
possible "seen": showing(lamp[i]) for each i
"""

BOTH = 'accept race of q, qn because "either may win"'

Decided = tuple[PropertyResult, DesignResult]


def no_race(text: str, options: Options | None = None) -> Decided:
    return decided(load_text(text), options)


def of_file(name: str, accepted: str, folder: Path, options: Options | None = None) -> Decided:
    """One of the asynchronous examples that accepts something."""
    for file in ("parts.ilk", f"{name}.ilk"):
        (folder / file).write_text((OUTSIDE / file).read_text(encoding="utf-8"), encoding="utf-8")
    with (folder / f"{name}.ilk").open("a", encoding="utf-8") as design:
        design.write(f"\n{accepted}\n")
    return decided(load(folder / f"{name}.ilk"), options)


def decided(loaded: Loaded, options: Options | None) -> Decided:
    result = prove(loaded, options, names=["no race"])
    return result.properties[0], result


def statuses(result: DesignResult) -> tuple[int, int]:
    """Without and with --races-fail."""
    return exit_status([result], []), exit_status([result], [], races_fail=True)


def test_all_accepted() -> None:
    found, result = no_race(SHUTTLES + 'accept race of either[1..2] because "why not"\n')
    assert found.verdict == "delay dependent"
    assert {(one.label, one.accepted) for one in found.instances} == {
        ("either[1]", "why not"),
        ("either[2]", "why not"),
    }
    assert found.instances[0].race is not None, "it is told all the same"
    assert (found.others, found.unmet) == ("none", ())
    assert statuses(result) == (0, 0)
    text = " ".join(design_text(result).split())
    assert "accepted for either[1], either[2]: why not" in text
    assert "Proved: there is no race but those that are accepted." in text


def test_one_of_two_accepted() -> None:
    found, result = no_race(SHUTTLES + 'accept race of either[1].ball because "why not"\n')
    assert {(one.label, one.accepted) for one in found.instances} == {
        ("either[1]", "why not"),
        ("either[2]", ""),
    }
    assert found.instances[0].label == "either[2]", "what is not accepted is told first"
    assert found.others == ""
    assert statuses(result) == (0, 1)


def test_accepted_in_some_weather_only() -> None:
    fair = 'accept race of either[1..2] while weather is fair because "one sees the lamp"\n'
    found, result = no_race(SHUTTLES + fair)
    unaccepted = [one for one in found.instances if not one.accepted]
    assert {one.label for one in unaccepted} == {"either[1]", "either[2]"}
    race = unaccepted[0].race
    assert race is not None
    assert "The surroundings: weather is foul" in [event.words for event in race.shared]
    assert statuses(result) == (0, 1)
    foul = 'accept race of either[1..2] while weather is foul because "one hears it"\n'
    found, result = no_race(SHUTTLES + fair + foul)
    assert {one.accepted for one in found.instances} == {"one sees the lamp", "one hears it"}
    assert (found.others, found.unmet) == ("none", ())
    assert statuses(result) == (0, 0)


def test_what_follows_from_a_race_has_to_be_named(tmp_path: Path) -> None:
    """Of the latch both gates end differently."""
    found, result = of_file("nor_latch", 'accept race of q because "either may win"', tmp_path)
    assert {(one.label, bool(one.accepted)) for one in found.instances} == {
        ("q", True),
        ("qn", False),
    }
    assert statuses(result) == (0, 1)
    found, result = of_file("nor_latch", BOTH, tmp_path)
    assert found.others == "none"
    assert statuses(result) == (0, 0)


def test_an_accepted_race_that_is_not_there_is_warned_of(tmp_path: Path) -> None:
    found, result = of_file("hazard", 'accept race of z, n because "so it is said"', tmp_path)
    assert (found.verdict, found.unmet) == ("holds", ("race of z, n",))
    assert statuses(result) == (0, 0)
    told = "warning: it accepts a race of z, n, and there is no such race."
    assert told in " ".join(design_text(result).split())


def test_one_of_two_accepted_races_is_not_there() -> None:
    accepted = (
        'accept race of either[1..2] because "why not"\naccept race of lamp[1] because "so"\n'
    )
    found, result = no_race(SHUTTLES + accepted)
    assert (found.others, found.unmet) == ("none", ("race of lamp[1]",))
    assert "and no such race was found." in " ".join(design_text(result).split())


def test_whether_there_are_others_may_stay_open(tmp_path: Path) -> None:
    """Then --races-fail does not let it pass. The engine named here finds runs and no proofs."""
    found, result = of_file("nor_latch", BOTH, tmp_path, Options("bounded", depth=20))
    assert found.others == "open"
    assert statuses(result) == (0, 3)
    assert "It is open whether there are other races" in " ".join(design_text(result).split())


@pytest.mark.parametrize("name", ["fulmar", "gannet", "petrel", "tern"])
def test_approved_designs_accept_all_their_races(name: str) -> None:
    result = prove(load(ROOT / "specs" / name / f"{name}.ilk"), names=["no race"])
    (found,) = result.properties
    assert (found.verdict, found.others, found.unmet) == ("delay dependent", "none", ())
    assert statuses(result) == (0, 0)
