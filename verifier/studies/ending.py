"""What would end a loop: single events after which the circuit comes to rest, as far as one try
tells."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.movement import at_rest, next_positions
from verifier.simulation.pressures import pressures
from verifier.simulation.races import firm_run, firmly
from verifier.simulation.steps import canonical, forbidden
from verifier.studies.names import spoken, switched

# How many steps the circuit has to come to rest in.
MOST_STEPS = 200


def endings(circuit: Circuit, state: State) -> tuple[str, ...]:
    """In words, each event of operator or surroundings in this state after which everything that
    must move, moving at once, comes to rest."""
    return tuple(
        words
        for words, acting, after in _events(circuit, state)
        if not forbidden(circuit, state, acting)
        and not forbidden(circuit, after, ())
        and _rests(circuit, after)
    )


def _events(circuit: Circuit, state: State) -> Iterator[tuple[str, tuple[int, ...], State]]:
    """Words, the momentary hands that act, the state after the step."""
    for hand, control in enumerate(circuit.hands):
        part, label = circuit.parts[control.part].name, spoken(control.label)
        if not control.held:
            yield f"{part} is {label}", (hand,), _acted(circuit, state, hand)
            continue
        hands = list(state.hands)
        hands[hand] = not hands[hand]
        words = f"{part} is {label}" if hands[hand] else f"{part} is let go"
        yield words, (), structs.replace(state, hands=tuple(hands))
    for index, switch in enumerate(circuit.switches):
        for value in range(len(switch.values)):
            if value != state.settings[index]:
                settings = (*state.settings[:index], value, *state.settings[index + 1 :])
                after = canonical(circuit, structs.replace(state, settings=settings))
                yield switched(circuit, index, value), (), after


def _acted(circuit: Circuit, state: State, hand: int) -> State:
    """The hand acts, and what it moves does so."""
    air = pressures(circuit, state)
    positions = list(state.positions)
    for element, thing in enumerate(circuit.elements):
        if thing.part == circuit.hands[hand].part:
            without = next_positions(circuit, state, air, element, ())
            moves = next_positions(circuit, state, air, element, (hand,))
            fresh = [position for position in moves if position not in without]
            positions[element] = fresh[0] if fresh else positions[element]
    return firmly(circuit, state, tuple(positions))


def _rests(circuit: Circuit, state: State) -> bool:
    states = firm_run(circuit, state, (), (), MOST_STEPS)
    return at_rest(circuit, states[-1] if states else state)
