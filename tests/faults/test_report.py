"""What is told of faults: considered, left out, struck."""

from __future__ import annotations

import pytest

from verifier.model.load import load_text
from verifier.report.result import DesignResult, Event, PropertyResult
from verifier.report.text import design_text
from verifier.studies.prove import prove

TEXT = """
design told
use standard
supply tractor
part stop: push_button_3_2_normally_open
part foot[1..2]: foot_valve
line air: tractor, stop.1
line lift: stop.2, foot[1..2].pilot
common cause ice "the valves freeze": foot[1..2] stuck, tube lift at stop.2 blocked
exclude faults every stuck of kind foot_valve because "opened every day" source "common practice"
exclude fault stop body_bursts because "rated" source "the maker"
always "any": if pressed(stop) then shut(foot[1]) tolerating any 1 fault of kind foot_valve
always "tubes": if pressed(stop) then shut(foot[1]) tolerating any 1 fault of every burst of tubes
always "frozen": if pressed(stop) then shut(foot[1]) tolerating cause ice
always "off": if pressed(stop) then shut(foot[1])
  tolerating tube lift at stop.2 torn at junction, tube lift at stop.2 blocked
never "sound": open(foot[1]) and pressed(stop) and tractor is absent and low(lift)
"""


@pytest.fixture(scope="module")
def told() -> DesignResult:
    return prove(load_text(TEXT))


def item_of(told: DesignResult, name: str) -> PropertyResult:
    return next(one for one in told.properties if one.name == name)


def test_exclusions_are_told_where_they_helped(told: DesignResult) -> None:
    tolerating = item_of(told, "any").tolerating
    assert tolerating is not None
    assert tolerating.most == 1
    assert "foot[1] stuck" not in tolerating.faults
    assert "foot[1] spring_broken" in tolerating.faults
    (left_out,) = tolerating.left_out
    assert left_out.faults == ("foot[1] stuck", "foot[2] stuck")
    assert (left_out.reason, left_out.source) == ("opened every day", "common practice")
    tubes = item_of(told, "tubes").tolerating
    assert tubes is not None
    assert tubes.left_out == ()
    assert all(name.endswith(" burst") for name in tubes.faults)
    assert item_of(told, "sound").tolerating is None


def test_to_leave_out_a_fault_leaves_its_cause(told: DesignResult) -> None:
    frozen = item_of(told, "frozen")
    assert frozen.verdict == "violated"
    assert frozen.tolerating is not None
    assert frozen.tolerating.faults == ("cause ice",)
    assert frozen.tolerating.left_out == ()


def strikes(told: DesignResult, name: str) -> list[Event]:
    (case,) = item_of(told, name).instances
    assert case.story is not None
    return [event for event in case.story.events if event.by == "fault"]


def test_a_strike_is_an_event_in_the_words_of_the_trade(told: DesignResult) -> None:
    (event,) = strikes(told, "frozen")
    assert event.words == "Fault: cause ice (the valves freeze)"
    (event,) = strikes(told, "off")
    assert event.words in (
        "Fault: tube lift at stop.2 comes off the junction",
        "Fault: tube lift at stop.2 is blocked",
    )


def test_the_text_says_what_was_considered_and_what_was_not(told: DesignResult) -> None:
    text = " ".join(design_text(told).split())
    assert "tolerating any 1 fault of every burst of tubes: 4 faults are considered" in text
    assert (
        "assumed not to happen: foot[1] stuck, foot[2] stuck, because opened every day "
        "(common practice)" in text
    )
    assert "tolerating cause ice: 1 fault is considered" in text
    assert "no other faults: nothing fails but what a property tolerates" in text


def test_modelling_assumptions_are_those_of_the_circuit_that_is_judged(told: DesignResult) -> None:
    assert "healthy parts" in item_of(told, "sound").modelling
    assert "no other faults" not in item_of(told, "sound").modelling
    assert "healthy parts" not in item_of(told, "frozen").modelling
    assert {"no other faults", "rest in spite of faults"} <= set(item_of(told, "frozen").modelling)


def test_what_limits_the_number_of_faults_is_told_as_an_assumption_if_it_is_needed() -> None:
    """Either spring alone is not enough to keep a way open through both valves; both are."""
    text = """
design two
use standard
supply tractor
part stop: push_button_3_2_normally_open
part foot[1..2]: foot_valve
line air: tractor, stop.1
line lift: stop.2, foot[1..2].pilot
place tank, between, header
liquid tank - foot[1] - between
liquid between - foot[2] - header
never "one": flow(tank, header) and pressed(stop)
  tolerating any 1 fault of every spring_broken of kind foot_valve
never "two": flow(tank, header) and pressed(stop)
  tolerating any 2 faults of every spring_broken of kind foot_valve
"""
    found = {one.name: one for one in prove(load_text(text)).properties}
    assert found["one"].verdict == "holds"
    assert [one.name for one in found["one"].assumptions] == ["at most so many faults: 1"]
    assert found["two"].verdict == "violated"
