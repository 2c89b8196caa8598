"""*no race* on asynchronous examples with published outcomes, and on their twins in air.

Sources: Mano, Digital Design, chapter 9 (the first circuit has no critical race; the second has one
when x2 falls in total state 1101, from memory); NOR latch, static-1 hazard, inverter ring,
C-element and glitch latch: standard examples of asynchronous theory (Brzozowski and Seger). All
outcomes were derived again for this project by general multiple winner analysis.
"""

from __future__ import annotations

from functools import cache

import pytest

from tests.outside.outcomes import DESIGNS
from verifier.model.load import load
from verifier.report.result import PropertyResult, Race
from verifier.report.text import design_text
from verifier.studies.options import Options
from verifier.studies.prove import prove


@cache
def no_race(name: str) -> PropertyResult:
    """The answer, with every race told."""
    options = Options(every_case=True)
    (found,) = prove(load(DESIGNS / f"{name}.ilk"), options, names=["no race"]).properties
    return found


def race(name: str, label: str) -> Race:
    found = {one.label: one.race for one in no_race(name).instances}[label]
    assert found is not None
    return found


def stands(race: Race, *names: str) -> set[tuple[str, ...]]:
    """Where these stand at both ends; "" where they started."""
    return {
        tuple(next((s.value for s in way.end.moved if s.name == name), "") for name in names)
        for way in (race.first, race.second)
    }


@pytest.mark.parametrize("name", ["mano_1", "c_element", "hazard", "hazard_covered"])
def test_circuits_without_a_critical_race(name: str) -> None:
    """A static hazard is a transient: it shows on the way and not at the end."""
    assert no_race(name).verdict == "holds"
    assert no_race(name).proof is not None


def test_mano_2_has_its_critical_race() -> None:
    """From y1 y2 = 11, when x2 falls while x1 is 0: outcomes 00 and 01."""
    found = race("mano_2", "y2")
    assert found.decided_by == "order"
    assert stands(found, "y1", "y2") == {("", ""), ("", "one")}
    event = [e.words for e in found.shared if e.by == "surroundings"][-1]
    assert event == "The surroundings: x2 is zero"
    assert {one.label for one in no_race("mano_2").instances} == {"y2"}


def test_nor_latch_after_both_inputs() -> None:
    """S = R = 1, then 0, 0: the gate that is first wins, {01, 10}."""
    found = race("nor_latch", "q")
    assert set(found.deciding) == {"q", "qn"}
    assert stands(found, "q", "qn") == {("one", ""), ("", "one")}
    assert {one.label for one in no_race("nor_latch").instances} == {"q", "qn"}


def test_nor_latch_of_valves() -> None:
    """The same of two valves that shut each other off, joined over shuttle valves."""
    labels = {one.label for one in no_race("nor_latch_air").instances}
    assert {"q", "qn"} <= labels
    assert stands(race("nor_latch_air", "q"), "q", "qn") == {("at 10", ""), ("", "at 10")}


def test_glitch_latch() -> None:
    """q may catch the glitch of a n, n = a', or not."""
    found = race("glitch_latch", "q")
    assert stands(found, "q") == {("",), ("one",)}
    assert set(found.deciding) == {"q", "s"}


def test_glitch_latch_of_valves() -> None:
    """The pulse of a 3/2 valve normally open and one normally closed, on one pilot."""
    assert race("pulse", "store").decided_by == "order"


@pytest.mark.parametrize("name", ["ring", "ring_air"])
def test_an_enabled_ring_is_shown_as_its_loop(name: str) -> None:
    """It never rests, so there are no ends that could differ."""
    result = prove(load(DESIGNS / f"{name}.ilk"))
    rest = next(item for item in result.properties if item.name == "comes to rest")
    (instance,) = rest.instances
    assert instance.story is not None
    assert instance.story.loop_from == 1
    assert "and so on for ever" in design_text(result)
    assert "What would end it: enable is " in instance.story.outcome
    assert no_race(name).verdict == "holds"


def test_where_the_ball_of_a_shuttle_valve_lies_matters_to_nothing() -> None:
    """Both inlets get air at once: the ball goes to either seat, the outlet has air (OR)."""
    found = no_race("shuttle_or")
    assert {one.label for one in found.instances} == {"either"}
    assert found.reason.startswith("Proved: but for where either stops, everything ends the same")
    assert found.proof is not None
