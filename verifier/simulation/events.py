"""What happens in a run, as a list, and the steps that such a list makes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.run import Run, State
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import canonical


class Change(Struct, frozen=True):
    """Something that a step does: `thing` indexes hands, switches, elements or volumes.

    value: what it is put to (an act: 1; a leak: 0).
    """

    step: int
    kind: Literal["hand", "switch", "act", "move", "leak"]
    thing: int
    value: int


def changes_of(circuit: Circuit, run: Run) -> list[Change]:
    """Everything that happens, in order of steps."""
    found: list[Change] = []
    before = run.start
    for number, step in enumerate(run.steps):
        after = step.state
        found += (Change(number, "act", hand, 1) for hand in step.acting)
        found += _differences(number, "hand", before.hands, after.hands)
        found += _differences(number, "switch", before.settings, after.settings)
        found += _differences(number, "move", before.positions, after.positions)
        found += (Change(number, "leak", v, 0) for v in _emptied(circuit, before, after))
        before = after
    return found


def _differences(
    step: int,
    kind: Literal["hand", "switch", "move"],
    before: tuple[int, ...],
    after: tuple[int, ...],
) -> Iterable[Change]:
    for thing, (old, new) in enumerate(zip(before, after, strict=True)):
        if old != new:
            yield Change(step, kind, thing, int(new))


def _emptied(circuit: Circuit, before: State, after: State) -> Iterable[int]:
    """Volumes that are cut off, could have kept air and did not (P4, P5)."""
    air = pressures(circuit, before)
    later = pressures(circuit, after)
    for volume, kept in enumerate(after.memory):
        if later.trapped[volume] and air.can_high[volume] and not kept:
            yield volume


def state_after(circuit: Circuit, state: State, changes: list[Change]) -> State:
    """The state that the changes lead to; what is cut off keeps its air unless a leak is told."""
    hands, settings, positions = list(state.hands), list(state.settings), list(state.positions)
    keeps = list(pressures(circuit, state).can_high)
    for change in changes:
        if change.kind == "hand":
            hands[change.thing] = bool(change.value)
        elif change.kind == "switch":
            settings[change.thing] = change.value
        elif change.kind == "move":
            positions[change.thing] = change.value
        elif change.kind == "leak":
            keeps[change.thing] = False
    after = State(tuple(positions), tuple(hands), tuple(settings), tuple(keeps))
    return canonical(circuit, after)
