"""What could change places: found where it is so, and not taken for so where it is not."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from msgspec import structs

from tests.agreement.circuits import circuit_of
from verifier import load, load_text
from verifier.changes.meaning import graph_of
from verifier.changes.symmetry import Symmetry, symmetries
from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.simulation.checking import check_step
from verifier.simulation.judging import violation
from verifier.simulation.replay import replay

ROOT = Path(__file__).resolve().parents[2]

BANK = """
design bank
use standard
supply tractor
part master: push_pull_3_2_detent
part pick[1..3]: push_pull_3_2_detent
part foot[1..3]: foot_valve
line air: tractor, master.1
line bank: master.2, pick[1..3].1
line lift[i in 1..3]: pick[i].2, foot[i].pilot
place tank[1..3], coupling[1..3]
liquid tank[i in 1..3] - foot[i] - coupling[i]
never "two run": flow(tank[i], coupling[i]) and flow(tank[j], coupling[j]) for any i < j
always "one in, all shut": if pick[i] is in then shut(foot[i]) for every i in 1..3
{more}
"""


def bank(more: str = "") -> Circuit:
    return load_text(BANK.format(more=more)).circuit


def moved(circuit: Circuit, maps: tuple[Symmetry, ...]) -> set[frozenset[str]]:
    """Parts that maps take to each other."""
    return {
        frozenset((circuit.parts[a].name, circuit.parts[b].name))
        for one in maps
        for a, b in enumerate(one.parts)
        if a != b
    }


def test_compartments_that_are_alike_are_found() -> None:
    circuit = bank()
    maps = symmetries(circuit)
    assert frozenset(("pick[1]", "pick[2]")) in moved(circuit, maps)
    assert frozenset(("foot[1]", "foot[3]")) in moved(circuit, maps)
    assert all(one.kept == {0, 1} for one in maps)


def test_a_property_of_one_compartment_is_not_kept() -> None:
    circuit = bank('never "the first": open(foot[1]) and pick[1] is in')
    assert all(one.kept == {0, 1} for one in symmetries(circuit))
    circuit = bank('never "any": open(foot[i]) and pick[i] is in for any i in 1..3')
    assert all(one.kept == {0, 1, 2} for one in symmetries(circuit))


@pytest.mark.parametrize(
    "more",
    [
        "part lamp: visual_indicator\nline shown: lamp.in, extra.2\npart extra: lever_3_2\n"
        "line fed: extra.1, spare\nsupply spare",
        'assume "hands off" because "test": never pick[1] is out and tractor is absent'.replace(
            "pick[1] is out", "tractor is present"
        ),
    ],
)
def test_what_is_added_beside_changes_nothing(more: str) -> None:
    circuit = bank(more)
    assert frozenset(("pick[1]", "pick[2]")) in moved(circuit, symmetries(circuit))


def test_an_assumption_about_one_part_tells_it_from_the_others() -> None:
    """Doors are held by hand, which assumptions may speak of."""
    text = (
        "design doors\nuse standard\npart door[1..3]: cabinet_door\n"
        'assume "one at a time" because "test": never open(door[1]) and open(door[2])\n'
        'possible "all but one": open(door[1]) and open(door[3])\n'
    )
    circuit = load_text(text).circuit
    assert moved(circuit, symmetries(circuit)) == {frozenset(("door[1]", "door[2]"))}
    assert [one.kept for one in symmetries(circuit)] == [frozenset()]


def test_a_start_and_a_role_tell_parts_apart() -> None:
    circuit = bank("start pick[2] is out")
    assert moved(circuit, symmetries(circuit)) == {
        frozenset((f"{part}[1]", f"{part}[3]")) for part in ("pick", "foot")
    }


@pytest.mark.parametrize("name", ["heron", "gannet", "shearwater"])
def test_a_run_stays_a_run_when_things_change_places(name: str) -> None:
    """The simulator judges both: every step is allowed in either, and the same kept properties
    break."""
    circuit = load(ROOT / "specs" / name / f"{name}.ilk").circuit
    run = drawn(circuit, Random(7), 25)
    maps = symmetries(circuit)
    assert maps
    for one in maps[:3]:
        image = changed(run, one)
        replay(circuit, image)
        for number in one.kept:
            item = circuit.properties[number]
            if item.form != "recovers":
                broken = [
                    any(violation(circuit, item, case, some) for case in item.instances)
                    for some in (run, image)
                ]
                assert broken[0] == broken[1]


@pytest.mark.parametrize("seed", range(25))
def test_symmetries_of_random_circuits_are_ones(seed: int) -> None:
    circuit = circuit_of(seed)
    graph_of(circuit)
    run = drawn(circuit, Random(seed), 15)
    for one in symmetries(circuit):
        replay(circuit, changed(run, one))


def drawn(circuit: Circuit, random: Random, most: int) -> Run:
    from tests.runs.test_play import random_step
    from verifier.simulation.steps import start

    begin = state = start(circuit)
    steps: list[Step] = []
    for _ in range(most):
        step = random_step(circuit, state, random)
        if not check_step(circuit, state, step):
            steps.append(step)
            state = step.state
    return Run(begin, tuple(steps))


def changed(run: Run, by: Symmetry) -> Run:
    def state(one: State) -> State:
        positions, hands = list(one.positions), list(one.hands)
        settings, memory = list(one.settings), list(one.memory)
        for old, new in enumerate(by.elements):
            positions[new] = one.positions[old]
        for old, new in enumerate(by.hands):
            hands[new] = one.hands[old]
        for old, new in enumerate(by.switches):
            settings[new] = one.settings[old]
        for old, new in enumerate(by.volumes):
            memory[new] = one.memory[old]
        return State(tuple(positions), tuple(hands), tuple(settings), tuple(memory))

    steps = tuple(
        Step(tuple(sorted(by.hands[k] for k in step.acting)), state(step.state))
        for step in run.steps
    )
    return structs.replace(run, start=state(run.start), steps=steps)
