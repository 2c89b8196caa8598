"""Runs as data in the words of the circuit: of each step, what acted and what is new after it.

A run begins where the design begins (O4), so its start is not told.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.simulation.steps import start

Value = TypeVar("Value")


class Changed(Struct, frozen=True, omit_defaults=True):
    """A step. acting: momentary hands. Of elements the new position, of held hands whether they are
    on, of switches the new value, of lines that are cut off whether they keep air from now on."""

    acting: tuple[str, ...] = ()
    elements: dict[str, str] = {}
    hands: dict[str, bool] = {}
    switches: dict[str, str] = {}
    air: dict[str, bool] = {}


class Recorded(Struct, frozen=True, omit_defaults=True):
    """A run. procedure_from: steps before the procedure of a *recovers* begins.
    loop_from: number of the state to which a run without rest comes back at its end."""

    steps: tuple[Changed, ...]
    procedure_from: int | None = None
    loop_from: int | None = None


class Unreadable(ValueError):
    """A record that speaks of things that the circuit does not have."""


def recorded(circuit: Circuit, run: Run, loop_from: int | None = None) -> Recorded:
    """The record of a run that begins at the start."""
    steps = []
    before = run.start
    for step in run.steps:
        after = step.state
        steps.append(
            Changed(
                acting=tuple(circuit.hands[hand].name for hand in step.acting),
                elements={
                    circuit.elements[i].name: circuit.elements[i].positions[position]
                    for i, position in _different(before.positions, after.positions)
                },
                hands={
                    circuit.hands[i].name: on for i, on in _different(before.hands, after.hands)
                },
                switches={
                    circuit.switches[i].name: circuit.switches[i].values[value]
                    for i, value in _different(before.settings, after.settings)
                },
                air={
                    circuit.volumes[i].name: kept
                    for i, kept in _different(before.memory, after.memory)
                },
            )
        )
        before = after
    return Recorded(tuple(steps), run.procedure_from, loop_from)


def replayed(circuit: Circuit, record: Recorded) -> Run:
    """The run that is recorded; whether it is one of the circuit is not judged here.

    Raises Unreadable for names that the circuit does not have.
    """
    hands = {hand.name: i for i, hand in enumerate(circuit.hands)}
    elements = {one.name: (i, _numbers(one.positions)) for i, one in enumerate(circuit.elements)}
    switches = {one.name: (i, _numbers(one.values)) for i, one in enumerate(circuit.switches)}
    volumes = {one.name: i for i, one in enumerate(circuit.volumes)}
    at = first = start(circuit)
    steps = []
    try:
        for changed in record.steps:
            positions, settings = {}, {}
            for name, position in changed.elements.items():
                index, known = elements[name]
                positions[index] = known[position]
            for name, value in changed.switches.items():
                index, known = switches[name]
                settings[index] = known[value]
            at = State(
                _with(at.positions, positions),
                _with(at.hands, {hands[name]: on for name, on in changed.hands.items()}),
                _with(at.settings, settings),
                _with(at.memory, {volumes[name]: kept for name, kept in changed.air.items()}),
            )
            steps.append(Step(tuple(hands[name] for name in changed.acting), at))
    except KeyError as strange:
        raise Unreadable(f"the circuit has no {strange}") from None
    return Run(first, tuple(steps), record.procedure_from)


def _numbers(names: tuple[str, ...]) -> dict[str, int]:
    return {name: number for number, name in enumerate(names)}


def _different(before: Sequence[Value], after: Sequence[Value]) -> list[tuple[int, Value]]:
    pairs = enumerate(zip(before, after, strict=True))
    return [(i, new) for i, (old, new) in pairs if old != new]


def _with(values: tuple[Value, ...], changes: dict[int, Value]) -> tuple[Value, ...]:
    return tuple(changes.get(i, value) for i, value in enumerate(values))
