"""Races, decided exactly on the explicit graph (Q11).

The question: from the start or a reachable state at rest take one step, whatever it does; from then
on hands and surroundings stand still. Do all states at rest that can follow have every element in
the same position? If not, some order of movements, some leak or some reading of an in-between
pressure decides where the circuit comes to rest.

A step is *firm* if only elements that must move do so, and trapped volumes that could have air keep
it. Where firm steps alone lead from one of the states that follow the event to different ends, the
order of movements decides; else it takes a leak or a reading to make the difference.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from itertools import product

from msgspec import Struct

from verifier.model.circuit import Acceptance, Circuit
from verifier.model.run import State
from verifier.simulation.explore import Exploration
from verifier.simulation.movement import at_rest, demanded, truth
from verifier.simulation.pressures import driven, pressures
from verifier.simulation.rest import knots, still_steps
from verifier.simulation.steps import start

Positions = tuple[int, ...]


class RaceAnswer(Struct, frozen=True):
    """Elements that are in different positions at two ends of the same event; of those, by firm
    steps from some state after it; and those of which the design does not accept that. complete:
    every reachable state was looked at; else there may be more."""

    apart: tuple[int, ...]
    firm: tuple[int, ...]
    unaccepted: tuple[int, ...]
    complete: bool


def races(exploration: Exploration) -> RaceAnswer:
    """The truth about *no race*."""
    circuit = exploration.circuit
    ready = dict.fromkeys((start(circuit), *exploration.resting_states()))
    begun = dict.fromkeys(there for state in ready for there, _, _ in exploration.edges(state))
    free = ends_of(circuit, begun, lambda state: still_steps(circuit, state))
    apart = _apart(free.values())
    firm: tuple[int, ...] = ()
    others = {
        element
        for state in begun
        for element in _apart([free[state]])
        if accepted(circuit, state, element) is None
    }
    if apart:
        ends = ends_of(circuit, free, lambda state: list(firm_steps(circuit, state)))
        firm = _apart(ends.values())
    return RaceAnswer(apart, firm, tuple(sorted(others)), exploration.complete)


def accepted(circuit: Circuit, state: State, element: int) -> Acceptance | None:
    """Why it may depend on more than the event where the element stops, with hands and surroundings
    still as they are in this state; None if the design does not accept it."""
    for one in circuit.accepted:
        if element in one.elements and truth(circuit, state, one.condition, (), {}):
            return one
    return None


def _apart(ends: Iterable[frozenset[Positions]]) -> tuple[int, ...]:
    """The elements that some set of ends has in different positions."""
    return tuple(
        sorted(
            {
                element
                for alike in ends
                for element, stands in enumerate(zip(*alike, strict=True))
                if len(set(stands)) > 1
            }
        )
    )


def ends_of(
    circuit: Circuit, states: Iterable[State], onward: Callable[[State], list[State]]
) -> dict[State, frozenset[Positions]]:
    """Of every state that the steps lead to: positions of the states at rest that can follow it,
    its own if it is at rest."""
    steps: dict[State, list[State]] = {}

    def following(state: State) -> list[State]:
        if state not in steps:
            steps[state] = onward(state)
        return steps[state]

    found: dict[State, frozenset[Positions]] = {}
    # A knot is found after all knots that it leads to.
    for knot in knots(states, following):
        ends = {state.positions for state in knot if at_rest(circuit, state)}
        inside = set(knot)
        for state in knot:
            for there in following(state):
                if there not in inside:
                    ends |= found[there]
        found.update(dict.fromkeys(knot, frozenset(ends)))
    return found


def firm_steps(circuit: Circuit, state: State) -> Iterator[State]:
    """The other states that one firm step leads to while hands and surroundings stand still."""
    moves = firm_moves(circuit, state)
    choices = [(own, moves.get(e, own)) for e, own in enumerate(state.positions)]
    for positions in product(*(dict.fromkeys(pair) for pair in choices)):
        there = firmly(circuit, state, positions)
        if there != state:
            yield there


def firm_moves(circuit: Circuit, state: State) -> dict[int, int]:
    """The elements that must move, no hand acting, each with its next position.

    One that must move but might go either way is not among them: a reading would have to decide.
    """
    air = pressures(circuit, state)
    found = {}
    for element, own in enumerate(state.positions):
        targets = demanded(circuit, state, air, element, ())
        ways = {(target > own) - (target < own) for target in targets}
        if len(ways) == 1 and 0 not in ways:
            found[element] = own + ways.pop()
    return found


def firmly(circuit: Circuit, state: State, positions: Positions) -> State:
    """The state after a firm step to these positions: what is cut off keeps the air it may have."""
    air = pressures(circuit, state)
    trapped = driven(circuit, positions, state.settings).trapped
    memory = tuple(t and high for t, high in zip(trapped, air.can_high, strict=True))
    return State(positions, state.hands, state.settings, memory)


def firm_run(
    circuit: Circuit, state: State, first: Collection[int], last: Collection[int], limit: int
) -> list[State]:
    """The states of firm steps from here to rest, this one left out: those of `first` that must
    move do so in the first step, later all that must, but those of `last` only when no other must.

    What has not come to rest after `limit` steps ends there.
    """
    found: list[State] = []
    while len(found) < limit:
        moves = firm_moves(circuit, state)
        chosen = [e for e in moves if e in first] if not found and first else []
        chosen = chosen or [e for e in moves if e not in last] or list(moves)
        if not chosen:
            break
        positions = list(state.positions)
        for element in chosen:
            positions[element] = moves[element]
        state = firmly(circuit, state, tuple(positions))
        found.append(state)
    return found
