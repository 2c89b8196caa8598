"""Conditions in a state, and what the moving elements may and must do (rules M1 to M6, P5)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product
from typing import cast

from verifier.model.circuit import Circuit, Network
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    AtRest,
    Condition,
    Hand,
    High,
    Not,
    Path,
    Setting,
)
from verifier.model.run import State
from verifier.simulation.plan import Reading, met, plan_of, readings_of
from verifier.simulation.pressures import Pressures, pressures, reach

Readings = Mapping[Reading, bool]


def demanded(
    circuit: Circuit, state: State, air: Pressures, element: int, acting: tuple[int, ...]
) -> tuple[int, ...]:
    """The positions that some reading of the element's pressures selects, sorted (M1, M2).

    `acting` are the momentary hands that act in this step. Exact: every combination of readings is
    tried, a reader of the same volume reading it once for all moves of the element.
    """
    found = set()
    for readings in every_reading(air, plan_of(circuit).readings[element]):
        found.add(selected(circuit, state, element, acting, readings))
    return tuple(sorted(found))


def selected(
    circuit: Circuit, state: State, element: int, acting: tuple[int, ...], readings: Readings
) -> int:
    """The position that one reading selects: the first move that is met, else `otherwise` (M1)."""
    thing = circuit.elements[element]
    for move in thing.moves:
        if truth(circuit, state, move.when, acting, readings):
            return move.target
    return state.positions[element] if thing.otherwise is None else thing.otherwise


def every_reading(air: Pressures, wanted: tuple[Reading, ...]) -> Iterator[dict[Reading, bool]]:
    """Every way in which the readers can read their volumes (P1, P5)."""
    choices = []
    for _, volume in wanted:
        both = ((True, air.can_high[volume]), (False, air.can_low[volume]))
        choices.append([value for value, possible in both if possible])
    for values in product(*choices):
        yield dict(zip(wanted, values, strict=True))


def truth(
    circuit: Circuit,
    state: State,
    condition: Condition,
    acting: tuple[int, ...],
    readings: Readings,
) -> bool:
    """Whether a condition is met under one reading of the pressures."""
    match condition:
        case High(volume=volume, reader=reader):
            return readings[reader, volume]
        case Not(of=inner):
            return not truth(circuit, state, inner, acting, readings)
        case All(of=parts):
            return all(truth(circuit, state, part, acting, readings) for part in parts)
        case Any(of=parts):
            return any(truth(circuit, state, part, acting, readings) for part in parts)
        case At(element=element, positions=positions):
            return state.positions[element] in positions
        case Hand(hand=hand):
            return state.hands[hand] if circuit.hands[hand].held else hand in acting
        case Setting(switch=switch, values=values):
            return state.settings[switch] in values
        case Path(network=network, start=start, end=end, directed=directed):
            return end in _places(circuit, network, state.positions, start, directed)
        case AtRest():
            return at_rest(circuit, state)
        case Always(value=value):
            return value


def _places(
    circuit: Circuit, network: int, positions: tuple[int, ...], start: int, directed: bool
) -> set[int]:
    """The places with an open path from `start`: along one-way legs only, or joined in any way."""
    plan = plan_of(circuit)
    key = ("places", network, positions, directed)
    known = plan.known.get(key)
    if known is None:
        links = _open_ways(circuit.networks[network], positions, directed)
        known = plan.remember(key, (links, {}))
    links, found = cast(tuple[list[list[int]], dict[int, set[int]]], known)
    if start not in found:
        found[start] = reach((start,), links)
    return found[start]


def _open_ways(network: Network, positions: tuple[int, ...], directed: bool) -> list[list[int]]:
    """To which places one can pass from each place."""
    links: list[list[int]] = [[] for _ in network.places]
    for way in network.ways:
        if met(way.where, positions):
            links[way.start].append(way.end)
            if not (directed and way.one_way):
                links[way.end].append(way.start)
    return links


def next_positions(
    circuit: Circuit, state: State, air: Pressures, element: int, acting: tuple[int, ...]
) -> tuple[int, ...]:
    """Where the element may stand after one step, its own position first: it may stay, or move one
    position towards a demanded one (M3)."""
    own = state.positions[element]
    found = {own: None}
    for target in demanded(circuit, state, air, element, acting):
        if target != own:
            found[own + (1 if target > own else -1)] = None
    return tuple(found)


def must_move(circuit: Circuit, state: State, element: int, acting: tuple[int, ...] = ()) -> bool:
    """Whether the element's own position is not among the demanded ones (M3)."""
    air = pressures(circuit, state)
    return _must_move(circuit, state, air, element, acting)


def _must_move(
    circuit: Circuit, state: State, air: Pressures, element: int, acting: tuple[int, ...]
) -> bool:
    return state.positions[element] not in demanded(circuit, state, air, element, acting)


def at_rest(circuit: Circuit, state: State, acting: tuple[int, ...] = ()) -> bool:
    """Whether no element must move (M6). A procedure's momentary hand may count as acting."""
    plan = plan_of(circuit)
    key = ("at rest", state, acting)
    known = plan.known.get(key)
    if known is not None:
        return cast(bool, known)
    air = pressures(circuit, state)
    elements = range(len(circuit.elements))
    moves = any(_must_move(circuit, state, air, element, acting) for element in elements)
    return plan.remember(key, not moves)


def holds_some(
    circuit: Circuit, state: State, condition: Condition, acting: tuple[int, ...] = ()
) -> bool:
    """Whether some reading of the pressures meets the condition."""
    air = pressures(circuit, state)
    return any(
        truth(circuit, state, condition, acting, readings)
        for readings in every_reading(air, readings_of(condition))
    )


def holds_every(
    circuit: Circuit, state: State, condition: Condition, acting: tuple[int, ...] = ()
) -> bool:
    """Whether every reading of the pressures meets the condition."""
    return not holds_some(circuit, state, Not(condition), acting)
