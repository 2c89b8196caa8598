"""What a proposed state or step breaks, in words. Written apart from the enumeration of steps, so
that a run is judged move by move and not by being found in a list."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.run import State, Step
from verifier.simulation.movement import demanded
from verifier.simulation.pressures import driven, pressures
from verifier.simulation.steps import forbidden, whole_tubes


class Breach(Struct, frozen=True):
    """A rule of grammar/REFERENCE.md that was broken, and how."""

    rule: str
    words: str


def check_state(circuit: Circuit, state: State) -> tuple[Breach, ...]:
    """Whether the state is one at all: sizes, ranges, canonical memory (P4), assumptions (O3)."""
    shape = tuple(_misshapen(circuit, state))
    if shape:
        return shape
    found = []
    trapped = driven(circuit, state.positions, state.settings).trapped
    for volume, memory in enumerate(state.memory):
        if memory and not trapped[volume]:
            name = circuit.volumes[volume].name
            found.append(Breach("P4", f"{name} keeps air although it is not cut off"))
    for name in forbidden(circuit, state, ()):
        found.append(Breach("O3", f'the assumption "{name}" excludes this state'))
    return tuple(found)


def check_step(circuit: Circuit, before: State, step: Step) -> tuple[Breach, ...]:
    """The rules that the step breaks; none if it is allowed. `before` is an allowed state."""
    found = [*_bad_acting(circuit, before, step.acting), *check_state(circuit, step.state)]
    if found:
        return tuple(found)
    found += _bad_moves(circuit, before, step)
    found += _bad_memory(circuit, before, step.state)
    return tuple(found)


def _misshapen(circuit: Circuit, state: State) -> Iterator[Breach]:
    sizes = (
        ("positions", len(state.positions), len(circuit.elements)),
        ("hands", len(state.hands), len(circuit.hands)),
        ("settings", len(state.settings), len(circuit.switches)),
        ("memory", len(state.memory), len(circuit.volumes)),
    )
    wrong = [f"{found} {name} for {wanted}" for name, found, wanted in sizes if found != wanted]
    if wrong:
        yield Breach("state", ", ".join(wrong))
        return
    for element, position in zip(circuit.elements, state.positions, strict=True):
        if not 0 <= position < len(element.positions):
            yield Breach("M1", f"{element.name} has no position number {position}")
    for switch, setting in zip(circuit.switches, state.settings, strict=True):
        if not 0 <= setting < len(switch.values):
            yield Breach("O2", f"{switch.name} has no value number {setting}")
    for hand, on in zip(circuit.hands, state.hands, strict=True):
        if on and not hand.held:
            yield Breach("O1", f"{hand.name} cannot be held")


def _bad_acting(circuit: Circuit, before: State, acting: tuple[int, ...]) -> Iterator[Breach]:
    if list(acting) != sorted(set(acting)):
        yield Breach("O1", "the hands that act are not listed once each, in order")
    for hand in acting:
        if not 0 <= hand < len(circuit.hands):
            yield Breach("O1", f"there is no hand number {hand}")
            return
        if circuit.hands[hand].held:
            yield Breach("O1", f"{circuit.hands[hand].name} is held and does not act momentarily")
    for name in forbidden(circuit, before, acting):
        yield Breach("O3", f'the assumption "{name}" excludes the hands that act')


def _bad_moves(circuit: Circuit, before: State, step: Step) -> Iterator[Breach]:
    """M3: one position at a time, towards a position demanded in the old state (M5)."""
    air = pressures(circuit, before)
    for index, element in enumerate(circuit.elements):
        old, new = before.positions[index], step.state.positions[index]
        if old == new:
            continue
        names = element.positions
        change = f"{element.name} went from {names[old]} to {names[new]}"
        if abs(new - old) > 1:
            yield Breach("M3", f"{change} in one step")
            continue
        targets = demanded(circuit, before, air, index, step.acting)
        if not any((target - old) * (new - old) > 0 for target in targets):
            yield Breach("M3", f"{change}, which nothing demanded")


def _bad_memory(circuit: Circuit, before: State, after: State) -> Iterator[Breach]:
    """P4: a volume that is cut off keeps a pressure that it could have; only trapped air leaks."""
    air = pressures(circuit, before)
    trapped = driven(circuit, after.positions, after.settings).trapped
    for index, volume in enumerate(circuit.volumes):
        if not trapped[index]:
            continue
        if after.memory[index] and not air.can_high[index]:
            yield Breach("P4", f"{volume.name} keeps air that it did not have")
        if not after.memory[index] and not air.can_low[index] and not air.trapped[index]:
            yield Breach("P4", f"{volume.name} lost its air the moment it was cut off")
    for one, other in whole_tubes(circuit, after.positions):
        if trapped[one] and after.memory[one] != after.memory[other]:
            names = f"{circuit.volumes[one].name} and {circuit.volumes[other].name}"
            yield Breach("P7", f"{names} are joined by a whole tube and keep different pressures")
