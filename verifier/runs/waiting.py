"""What moves while nobody does anything, in one order or another."""

from __future__ import annotations

from random import Random

from verifier.model.circuit import Circuit
from verifier.model.run import State, Step
from verifier.simulation.movement import demanded, must_move
from verifier.simulation.pressures import pressures
from verifier.simulation.races import firmly


def waited(circuit: Circuit, state: State, order: Random | None, most: int) -> list[Step] | None:
    """Steps to rest, in each of which some of what must move does, all of it without an `order`;
    None if there are more than `most`. What might go either way goes to the first of its positions
    that is demanded, or to any in an `order`. Air that is cut off is kept."""
    found: list[Step] = []
    while True:
        movers = [k for k in range(len(circuit.elements)) if must_move(circuit, state, k)]
        if not movers:
            return found
        if len(found) >= most:
            return None
        positions = list(state.positions)
        for element in movers if order is None else _some(movers, order):
            air = pressures(circuit, state)
            targets = demanded(circuit, state, air, element, ())
            target = targets[0] if order is None else order.choice(targets)
            positions[element] += 1 if target > positions[element] else -1
        state = firmly(circuit, state, tuple(positions))
        found.append(Step((), state))


def _some(movers: list[int], order: Random) -> list[int]:
    """Mostly one; every set of them can come."""
    first = order.choice(movers)
    also = [one for one in movers if one != first and order.random() < 0.25]
    return sorted([first, *also])
