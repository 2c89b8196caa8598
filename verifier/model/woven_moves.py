"""Moving elements with what faults do to them and to hands (F3)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from msgspec import structs

from verifier.model.acting import Acting, none_of
from verifier.model.circuit import Circuit, Element, FaultEffect, Move
from verifier.model.condition import At, Condition, Hand, High
from verifier.model.simplify import all_of, any_of, replace
from verifier.model.strikes import Effect
from verifier.model.woven_air import WovenAir

Effects = Sequence[tuple[FaultEffect, Acting]]


class Sides:
    """What is read of a port, once a fault can cut it off from its line: its own side."""

    def __init__(self, circuit: Circuit, moved: Mapping[int, int]) -> None:
        self._circuit = circuit
        self._moved = moved

    def of(self, atom: High) -> High:
        if atom.port is None or atom.port not in self._moved:
            return atom
        name = self._circuit.ports[atom.port].name
        reader = atom.reader if atom.reader == name else f"{atom.reader}, {name}"
        return High(self._moved[atom.port], reader, atom.port)


def woven_elements(
    circuit: Circuit, effects: Sequence[tuple[Effect, Acting]], air: WovenAir, chance: int
) -> tuple[Element, ...]:
    """The circuit's elements: first what holds or sends them astray, then their own moves, then
    that a broken spring does nothing. chance: a volume that is read either way."""
    of_elements: dict[int, list[tuple[FaultEffect, Acting]]] = defaultdict(list)
    for effect, fault in effects:
        if isinstance(effect, FaultEffect) and effect.element is not None:
            of_elements[effect.element].append((effect, fault))
    of_hands = effects_on_hands(effects)
    sides = Sides(circuit, air.moved)
    return tuple(
        _woven(e, element, of_elements.get(e, ()), of_hands, sides, chance)
        for e, element in enumerate(circuit.elements)
    )


def effects_on_hands(effects: Iterable[tuple[Effect, Acting]]) -> dict[int, Effects]:
    """Effects on hands, by hand."""
    found: dict[int, list[tuple[FaultEffect, Acting]]] = defaultdict(list)
    for effect, fault in effects:
        if isinstance(effect, FaultEffect) and effect.hand is not None:
            found[effect.hand].append((effect, fault))
    return {hand: tuple(of) for hand, of in found.items()}


def _woven(
    index: int,
    element: Element,
    effects: Effects,
    of_hands: Mapping[int, Effects],
    sides: Sides,
    chance: int,
) -> Element:
    def atom(part: Condition) -> Condition:
        if isinstance(part, High):
            return sides.of(part)
        if isinstance(part, Hand):
            return _by_hand(part, of_hands.get(part.hand, ()))
        return part

    span = element.span
    own = [structs.replace(move, when=replace(move.when, atom)) for move in element.moves]
    stuck = [fault for effect, fault in effects if effect.effect == "sticks"]
    loose = [fault for effect, fault in effects if effect.effect == "no_spring"]
    astray = [
        Move(position, all_of((any_of(acting), _chance(chance, element, position))), span)
        for position, acting in _astray(effects).items()
    ]
    moves = (
        *_stays(index, element, stuck),
        *astray,
        *own,
        *_stays(index, element, loose),
    )
    return structs.replace(element, moves=moves)


def _astray(effects: Effects) -> dict[int, list[Condition]]:
    """Where faults may send the element, by position."""
    found: dict[int, list[Condition]] = {}
    for effect, fault in effects:
        if effect.effect == "shifts" and effect.position is not None:
            found.setdefault(effect.position, []).append(fault.condition)
    return found


def _chance(volume: int, element: Element, position: int) -> Condition:
    """One reading for each position: some reading selects any of them, or none."""
    return High(volume, f"{element.name} unbidden to {element.positions[position]}")


def _stays(index: int, element: Element, faults: Sequence[Acting]) -> list[Move]:
    """While a fault acts the element is sent where it stands."""
    if not faults:
        return []
    acts = any_of(fault.condition for fault in faults)
    return [
        Move(position, all_of((At(index, (position,)), acts)), element.span)
        for position in range(len(element.positions))
    ]


def _by_hand(hand: Hand, effects: Effects) -> Condition:
    """Held on by a fault, or else on, unless a fault has made it useless."""
    held = [fault.condition for effect, fault in effects if effect.effect == "held"]
    dead = none_of(fault for effect, fault in effects if effect.effect == "dead")
    return all_of((any_of((hand, *held)), *dead))
