"""`prove` on properties that tolerate faults, beside the truth by explicit search or by hand."""

from __future__ import annotations

import pytest

from verifier.model.circuit import Circuit
from verifier.model.load import load_text
from verifier.model.tolerant import tolerances, woven
from verifier.report.result import PropertyResult
from verifier.simulation.explore import Exploration
from verifier.studies.prove import prove

# Two stops: one works by letting air out, the other by sending it (common practice; ISO 4414 asks
# that an emergency stop need not energise anything, from memory).
STOPS = """
design stops
use standard
supply tractor
part stop: emergency_stop_exhausting
part send: emergency_stop_pressurising
part pick: push_pull_3_2
part foot: foot_valve
line air: tractor, stop.1, send.1
line run: stop.2, pick.1
line trip: send.2, pick.10
line lift: pick.2, foot.pilot
"""
LETS_OUT = "if pressed(stop) then shut(foot)"
SENDS = "if pressed(send) and pick is out then shut(foot)"

VERDICTS = {
    f"{LETS_OUT} tolerating any 1 fault of every torn of tubes": "holds",
    f"{LETS_OUT} tolerating any 2 faults of every torn of tubes": "holds",
    f"{LETS_OUT} tolerating every torn of tubes, every burst of tubes": "holds",
    # What cannot get out stays: a blocked tube is what an exhausting stop does not stand.
    f"{LETS_OUT} tolerating tube lift blocked": "violated",
    f"{LETS_OUT} tolerating tube run blocked": "violated",
    # Kinked, it takes longer.
    f"{LETS_OUT} tolerating tube lift kinked": "holds",
    f"{LETS_OUT} tolerating foot stuck": "violated",
    f"{LETS_OUT} tolerating stop exhaust_3_blocked": "violated",
    f"{LETS_OUT} tolerating any 1 fault of supplies": "holds",
    # Nothing drains through the outlet of the supply once it is blocked: it matters to what shuts
    # when the air is turned off, and not to the stop.
    f"{LETS_OUT} tolerating tube air at tractor blocked": "holds",
    "if tractor is absent then shut(foot) tolerating tube air at tractor kinked": "holds",
    "if tractor is absent then shut(foot) tolerating tube air at tractor blocked": "violated",
    "if tractor is absent then shut(foot) tolerating any 1 fault of every torn of tubes": "holds",
    "if pressed(send) then pick is in tolerating any 1 fault of every burst of tubes": "violated",
    # The port's own side is read: the valve's, and that of what it opens.
    "if pressed(stop) then low(pick.2) tolerating tube lift blocked": "holds",
    "if pressed(stop) then low(foot.pilot) tolerating tube lift blocked": "violated",
}


# Those of a single fault.
FEW = [one for one in VERDICTS if "any" not in one and "every" not in one]


def verdicts(text: str) -> dict[str, PropertyResult]:
    return {one.name: one for one in prove(load_text(text)).properties if not one.free}


@pytest.fixture(scope="module")
def proved() -> dict[str, PropertyResult]:
    said = "".join(f'always "{one}": {one}\n' for one in VERDICTS)
    return verdicts(f"{STOPS}{said}")


@pytest.mark.parametrize("said", VERDICTS)
def test_verdicts_worked_out_by_hand(said: str, proved: dict[str, PropertyResult]) -> None:
    assert proved[said].verdict == VERDICTS[said]


@pytest.mark.parametrize("said", FEW)
def test_explicit_search_says_the_same(said: str) -> None:
    circuit = load_text(f'{STOPS}always "it": {said}\n').circuit
    faulty = with_faults(circuit)
    exploration = Exploration(faulty)
    assert exploration.complete
    item = faulty.properties[0]
    assert exploration.answer(item, item.instances[0]).truth == VERDICTS[said]


def with_faults(circuit: Circuit) -> Circuit:
    (tolerance,) = tolerances(circuit)
    return woven(circuit, tolerance)


def test_every_form_tolerates() -> None:
    found = verdicts(
        STOPS
        + """
never at every moment "air past the stop": high(lift) and pressed(stop) and tractor is absent
  tolerating any 1 fault of kind foot_valve
recovers "pressing it shuts": after pushed(stop) then shut(foot)
  tolerating any 1 fault of every torn of tubes
recovers "unless it is blocked": after pushed(stop) then shut(foot) tolerating tube lift blocked
"""
    )
    assert {name: one.verdict for name, one in found.items()} == {
        "air past the stop": "holds",
        "pressing it shuts": "holds",
        "unless it is blocked": "violated",
    }


# The drawer of grammar/REFERENCE.md, with what wears.
BOLT = """
design bolt
kind bolt
  hand drawn_back
  hand pushed
  element rod: home, back
    to back when drawn_back by hand
    to home when pushed by hand and not worked
    otherwise stays
  fault worn "slips home": rod may go to home
  fault rusty "sticks": rod stays comes and goes
end
kind drawer
  hand pulled
  hand pushed
  element box: shut, out
    to out when pulled by hand and worked
    to shut when pushed by hand
    otherwise stays
  fault rusty "sticks": box stays comes and goes
end
part lock: bolt worked by out(box)
part box: drawer worked by back(lock)
assume "one thing at a time" because "bolt and drawer are worked by the same hand":
  never pulled(box) and pushed(lock)
order "worn": out(box) only after back(lock) tolerating any 1 fault of every worn
order "rusty": out(box) only after back(lock) tolerating any 2 faults of every rusty
order "sound": out(box) only after back(lock)
"""


def test_an_order_tolerates_what_does_not_undo_it() -> None:
    found = {name: one.verdict for name, one in verdicts(BOLT).items()}
    assert found == {"worn": "violated", "rusty": "holds", "sound": "holds"}


DOOR = """
design door
use standard
supply tractor
part door: cabinet_door
part valve: plunger_3_2 worked by shut(door)
part lamp: visual_indicator
line air: tractor, valve.1
line shown: valve.2, lamp.in
never "open and showing": open(door) and showing(lamp)
never "open and showing, though it cannot be shut": open(door) and showing(lamp)
  tolerating door cannot_shut
never "open and showing, though it cannot be opened": open(door) and showing(lamp)
  tolerating door jammed_shut
never "showing, though it cannot be shut": showing(lamp) and not open(door)
  tolerating door cannot_shut
"""


def test_a_hand_that_a_fault_holds_is_seen_either_way() -> None:
    """A door is open when somebody holds it open, and when it cannot be shut. One that somebody
    pulls at, and that does not open, may be called open too: the model takes the worse."""
    found = {name: one.verdict for name, one in verdicts(DOOR).items()}
    assert found == {
        "open and showing": "holds",
        "open and showing, though it cannot be shut": "holds",
        "open and showing, though it cannot be opened": "violated",
        "showing, though it cannot be shut": "violated",
    }
