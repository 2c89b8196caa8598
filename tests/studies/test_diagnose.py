"""What a fitter checks first, through the command. All of it is common practice, without a source.

On heron (a master, one selector bank) and gannet (each outlet with its lock-out line), and with
further observations that clear the first suspect.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from verifier.cli.diagnose import command

SPECS = Path(__file__).resolve().parents[2] / "specs"
HERON, GANNET = str(SPECS / "heron" / "heron.ilk"), str(SPECS / "gannet" / "gannet.ilk")

QUICK = ("--no-advice", "--no-faults")
SILENT = "saw no air blowing out anywhere"
PAIR = """design pair
use standard
supply air starts present
part left : push_button_3_2
part right : push_button_3_2
part one : visual_indicator
part two : visual_indicator
line fed : air, left.1, right.1
line first : left.2, one.in
line second : right.2, two.in
exclude faults tubes, supplies because "to keep it small" source "a guess"
possible "both show": showing(one) and showing(two)
"""


def asked(design: str, *told: str, more: tuple[str, ...] = ("--no-advice",)) -> dict[str, Any]:
    """The answer; `told` are `did …` and `saw …` in order."""
    more = (*more, "--no-mistakes") if design == GANNET else more
    words = [part for one in told for part in (f"--{one[:3]}", one[4:])]
    done = CliRunner().invoke(command, [design, "--json", *more, *words])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.output
    assert done.exit_code in (0, 1), done.output
    found: dict[str, Any] = json.loads(done.output)["diagnosis"]
    return found


def causes(found: dict[str, Any], kind: str) -> list[str]:
    return [" + ".join(o["causes"]) for o in found["explanations"] if o["kind"] == kind]


def test_a_master_that_goes_back_in_has_air_from_the_stop() -> None:
    """That is said before the master is blamed, and each story is replayed."""
    found = asked(HERON, "did pull master", "saw master goes back in")
    first = found["explanations"][0]
    assert (first["kind"], first["causes"]) == ("input", ["stop is pushed"])
    assert any("its pilot 12 has air" in event["cause"] for event in first["story"]["events"])
    assert all(one["story"] for one in found["explanations"])
    assert "master pushed_jammed" in causes(found, "faults")
    kinds = [one["kind"] for one in found["explanations"]]
    assert kinds == sorted(kinds, key=("as designed", "input", "faults").index)


def test_so_it_is_on_the_other_design() -> None:
    found = asked(GANNET, "did pull master", "saw master goes back in", more=QUICK)
    assert causes(found, "input")[0] == "stop is pushed"
    silent = ("saw stop released", "saw no air in trip")
    found = asked(GANNET, "did pull master", "saw master goes back in", *silent, more=QUICK)
    assert not any("stop" in name for name in causes(found, "input"))


def test_a_stop_that_is_cleared_is_blamed_no_more() -> None:
    """It stands released and its line has no air: then the air that holds the master is missing."""
    found = asked(
        HERON,
        "did pull master",
        "saw master goes back in",
        "saw stop released",
        "saw no air in trip",
        "saw air in air",
        "saw no air blowing out anywhere",
    )
    stop = [name for name in causes(found, "faults") if name.startswith("stop")]
    assert stop == ["stop moves_unbidden"], "it can have gone back by itself"
    assert not any("stop" in name for name in causes(found, "input"))
    assert "tube air at master.hold blocked" in causes(found, "faults")


def test_air_at_the_master_does_not_convict_it() -> None:
    """It may come from the selectors' side; with the two isolated from each other it is known."""
    apart = ("did plug tube home at master.2", "did pull master")
    still = causes(asked(GANNET, *apart, "saw air blowing out of master.3"), "faults")
    assert "master stuck_between_open" in still
    assert not any(name.startswith(("either", "gate", "pick")) for name in still)
    together = causes(asked(GANNET, "did pull master", "saw air blowing out of master.3"), "faults")
    assert {"master stuck_between_open", "either[1] both_open"} <= set(together)


def test_on_heron_no_air_comes_from_the_selectors() -> None:
    """Their pilots only take air: here it is the master, or what is connected wrongly."""
    found = causes(asked(HERON, "did pull master", "saw air blowing out of master.3"), "faults")
    assert "master stuck_between_open" in found
    assert not any(
        name.startswith(("pick", "foot", "vent")) and "swapped" not in name for name in found
    )


def test_selectors_are_not_drawn_before_the_vents_have_proved_open() -> None:
    found = asked(HERON, "did pull pick[1]", "saw pick[1] will not stay out")
    assert found["explanations"][0]["kind"] == "as designed"
    found = asked(HERON, "did pull pick[1]", "saw pick[1] stays out")
    assert "as designed" not in {one["kind"] for one in found["explanations"]}


def test_pushing_the_master_in_shuts_everything() -> None:
    drawn = ("did pull master", "did pull pick[1]", "saw foot[1] open", "did push master")
    found = asked(HERON, *drawn, "saw foot[1] shut", "saw pick[1] in", "saw vent[1] shut")
    assert found["explanations"][0]["kind"] == "as designed"
    found = asked(HERON, *drawn, "saw foot[1] open")
    assert "as designed" not in {one["kind"] for one in found["explanations"]}
    assert "foot[1] stuck" not in causes(found, "faults"), "it has opened before"
    assert "foot[1] spring_broken" in causes(found, "faults")


def test_its_lock_out_line_keeps_one_selector_home_and_no_other() -> None:
    begun = ("did couple adapter[2]", "did pull master")
    tried = ("did pull pick[1]", "saw pick[1] in", "did pull pick[2]", "saw pick[2] out")
    found = asked(GANNET, *begun, *tried, more=QUICK)
    assert found["explanations"][0]["kind"] == "as designed"
    # With the hose on, its own lock-out line has no air: then only somebody else can have done it.
    found = asked(GANNET, *begun, "did pull pick[2]", "saw pick[2] in", more=QUICK)
    assert "as designed" not in {one["kind"] for one in found["explanations"]}
    assert not any("adapter[1]" in name for name in causes(found, "input"))


def test_what_nothing_explains_is_said() -> None:
    found = asked(
        HERON,
        "saw cock[1] open",
        "saw cock[2] open",
        "saw cock[3] open",
    )
    assert found["explanations"] == []
    assert found["hardest"] in ("cock[1] open", "cock[2] open", "cock[3] open")
    assert found["hardest_before"] > 0, "the first two are explained by two people"


def test_two_at_once_are_minimal(tmp_path: Path) -> None:
    """Two buttons, each with its lamp: no single fault darkens both. No explanation by two has one
    by itself as a part."""
    path = tmp_path / "pair.ilk"
    path.write_text(PAIR)
    seen = ("did press left", "saw one does not show", "saw left pressed")
    both = (*seen, "did press right", "saw two does not show", "saw right pressed")
    more = ("--no-advice", "--no-mistakes", "--order")
    assert causes(asked(str(path), *both, SILENT, more=(*more, "1")), "faults") == []
    found = asked(str(path), *both, SILENT, more=(*more, "2"))
    sets = [set(one["causes"]) for one in found["explanations"] if one["kind"] == "faults"]
    assert {"one stuck", "two stuck"} in sets
    assert {"one stuck", "left stuck_between_shut"} not in sets
    assert all(len(one) == 2 for one in sets)
    single = asked(str(path), *seen, more=(*more, "2"))
    alone = {one["causes"][0] for one in single["explanations"] if len(one["causes"]) == 1}
    assert "one stuck" in alone
    assert not any(alone & set(o["causes"]) for o in single["explanations"] if len(o["causes"]) > 1)


def test_the_next_look_rules_out_most() -> None:
    found = asked(HERON, "did pull master", "saw lamp does not show", more=())
    advice = found["next"]
    total = len(found["explanations"])
    assert advice["rules_out"] > 0
    for one in advice["outcomes"]:
        assert len(one["leaves"]) <= total - advice["rules_out"]
    assert {n for one in advice["outcomes"] for n in one["leaves"]} == set(range(1, total + 1))


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (("--did", "pull nobody"), "there is no part"),
        (("--saw", "lamp upside_down"), "no position"),
        (("--did", "move vent[1] to open"), "nothing that somebody does or sees"),
        (("--did", "pull master", "--did", "plug tube lift[1]"), "before anything is done"),
        (("--saw", "air blowing out of master.1"), "no air can be seen"),
    ],
)
def test_bad_input_is_told(told: tuple[str, ...], words: str) -> None:
    done = CliRunner().invoke(command, [HERON, *told])
    assert done.exit_code == 2
    assert words in done.output


def test_line_by_line() -> None:
    """As a fitter would talk to it."""
    talk = "did pull master\nsaw master goes back in\nwhy 1\nsaw stop released\nundo\nquit\n"
    done = CliRunner().invoke(command, [HERON, "--no-advice"], input=talk)
    assert done.exit_code == 0, done.output
    assert "stop is pushed" in done.output
    assert "taken back: saw stop released" in done.output
