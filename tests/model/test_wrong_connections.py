"""Circuits with one wrong connection: compared with designs that are written so, and with torn
tubes, which rules F3 and P7 give the same meaning from another side."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.edited import struck, views, woven_of
from verifier import load, load_text
from verifier.model.circuit import Circuit
from verifier.model.wellformed import check
from verifier.model.wrong_connections import (
    LeftOff,
    Swapped,
    wrong_connections,
    wrong_words,
    wrongly_connected,
)
from verifier.simulation.explore import Exploration

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = sorted((ROOT / "specs").glob("*/*.ilk"))

SMALL = """
design small
use standard
supply tractor may be weak
part stop: push_button_3_2
part hold: push_pull_3_2
part foot: foot_valve
part lamp: visual_indicator
{lines}
place tank, header
liquid tank - foot - header
never "open with the stop pushed": open(foot) and pressed(stop) and high({read})
"""
LINES = """
line air: tractor, stop.1, hold.1
line trip: stop.2, hold.10
line lift: hold.2, foot.pilot, lamp.in
"""


def port(circuit: Circuit, name: str) -> int:
    return next(k for k, one in enumerate(circuit.ports) if one.name == name)


def tube(circuit: Circuit, name: str) -> int:
    return next(k for k, one in enumerate(circuit.tubes) if one.name == name)


def swapped(circuit: Circuit, one: str, other: str) -> Circuit:
    pair = sorted((port(circuit, one), port(circuit, other)))
    return wrongly_connected(circuit, Swapped((pair[0], pair[1])))


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_every_wrong_connection_is_a_circuit(path: Path) -> None:
    """Those of the large one by tens: they are of few sorts."""
    circuit = load(path).circuit
    every = wrong_connections(circuit)
    assert len({wrong_words(circuit, one) for one in every}) == len(every)
    for wrong in every[:: 1 if len(every) < 100 else 10]:
        changed = wrongly_connected(circuit, wrong)
        check(changed)
        assert changed != circuit
        for sort in ("elements", "hands", "switches", "supplies", "networks", "properties"):
            assert len(getattr(changed, sort)) == len(getattr(circuit, sort))


@pytest.mark.parametrize(
    ("ports", "lines"),
    [
        (
            ("hold.1", "hold.2"),
            "line air: tractor, stop.1, hold.2\nline trip: stop.2, hold.10\n"
            "line lift: hold.1, foot.pilot, lamp.in\n",
        ),
        (
            ("hold.10", "hold.2"),
            "line air: tractor, stop.1, hold.1\nline trip: stop.2, hold.2\n"
            "line lift: hold.10, foot.pilot, lamp.in\n",
        ),
        (
            ("stop.2", "stop.3"),
            "line air: tractor, stop.1, hold.1\nline trip: stop.3, hold.10\n"
            "line lift: hold.2, foot.pilot, lamp.in\nopen stop.2\n",
        ),
    ],
)
@pytest.mark.parametrize("read", ["foot.pilot", "line lift", "hold.10"])
def test_a_swap_is_what_one_would_write(ports: tuple[str, str], lines: str, read: str) -> None:
    """The same states in all that can be seen, and the same truth about the property."""
    read = read.removeprefix("line ")
    healthy = load_text(SMALL.format(lines=LINES, read=read)).circuit
    changed = swapped(healthy, *ports)
    check(changed)
    written = load_text(SMALL.format(lines=lines, read=read)).circuit
    assert views(changed, healthy) == views(written, healthy)
    for one, other in zip(changed.properties, written.properties, strict=True):
        assert one.instances[0].words == other.instances[0].words
    truths = [
        Exploration(one).answer(one.properties[0], one.properties[0].instances[0]).truth
        for one in (changed, written)
    ]
    assert truths[0] == truths[1]


@pytest.mark.parametrize(
    "name", ["trip", "air at stop.1", "air at supply tractor", "lift at lamp.in"]
)
def test_a_tube_left_off_is_one_torn_from_the_beginning(name: str) -> None:
    text = SMALL.format(lines=LINES, read="foot.pilot")
    circuit, woven = woven_of(text, f"tube {name} torn")
    changed = wrongly_connected(circuit, LeftOff(tube(circuit, name)))
    check(changed)
    assert views(changed, circuit) == views(struck(woven), circuit)


@pytest.mark.parametrize("name", ["heron", "tern"])
def test_swapping_twice_is_swapping_nothing(name: str) -> None:
    circuit = load(ROOT / "specs" / name / f"{name}.ilk").circuit
    swaps = [one for one in wrong_connections(circuit) if isinstance(one, Swapped)]
    assert len(swaps) > 20
    for wrong in swaps:
        assert wrongly_connected(wrongly_connected(circuit, wrong), wrong) == circuit


def test_what_makes_no_difference_is_no_wrong_connection() -> None:
    circuit = load_text(SMALL.format(lines=LINES, read="foot.pilot")).circuit
    told = [wrong_words(circuit, one) for one in wrong_connections(circuit)]
    assert told[:3] == [
        "stop.1 and stop.2 swapped",
        "stop.1 and stop.3 swapped",
        "stop.2 and stop.3 swapped",
    ]
    assert "tube lift at foot.pilot left off" in told
    with pytest.raises(ValueError, match="cannot be swapped"):
        wrongly_connected(circuit, Swapped((port(circuit, "stop.1"), port(circuit, "hold.1"))))


@pytest.mark.parametrize("name", ["fulmar", "skua"])
def test_what_is_said_of_faults_stays_true_of_those_that_are_left(name: str) -> None:
    said = (
        'never "shown": open(foot) tolerating any 1 fault of every torn of tubes\n'
        'exclude fault tube trip torn because "it is welded" source "made up"\n'
        'rate tube lift at foot.pilot torn at foot.pilot: 1 per year source "made up"\n'
    )
    text = SMALL.format(lines=LINES, read="foot.pilot") + (said if name == "fulmar" else "")
    circuit = load_text(text).circuit
    for wrong in wrong_connections(circuit):
        check(wrongly_connected(circuit, wrong))
