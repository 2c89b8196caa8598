"""What one moving element demands, looked up by all that it depends on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

from msgspec import structs

from verifier.model.circuit import Circuit, Element
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    Condition,
    Hand,
    High,
    Not,
    Setting,
)
from verifier.model.simplify import atoms, replace

Reading = tuple[str, int]


class Thing:
    """readings: its readers, each with the volume that it reads.   others: elements, hands and
    switches that its moves speak of.   plain: where it stands at rest follows from what it reads
    and what others do, whatever came before.
    """

    def __init__(self, number: int, element: Element) -> None:
        self.number = number
        self.element = element
        found = [atom for move in element.moves for atom in atoms(move.when)]
        readings = {(a.reader, a.volume): None for a in found if isinstance(a, High)}
        self.readings: tuple[Reading, ...] = tuple(readings)
        self.volumes = tuple(volume for _, volume in self.readings)
        spoken = {a.element: None for a in found if isinstance(a, At)}
        self.others = tuple(spoken)
        self.hands = tuple({a.hand: None for a in found if isinstance(a, Hand)})
        self.switches = tuple({a.switch: None for a in found if isinstance(a, Setting)})
        self.plain = element.otherwise is not None and number not in spoken
        self._known: dict[object, tuple[int, ...]] = {}

    def demanded(
        self,
        positions: tuple[int, ...],
        hands: tuple[int, ...],
        settings: tuple[int, ...],
        seen: tuple[int, ...],
    ) -> tuple[int, ...]:
        """The positions that some reading selects (M2), sorted. seen: of each reading 1 if it can
        only be high, 0 if it can only be low, 2 if it can be both."""
        # What a plain element demands does not depend on where it stands.
        own = -1 if self.plain else positions[self.number]
        key = (
            own,
            seen,
            tuple([positions[e] for e in self.others]),
            tuple([hands[h] for h in self.hands]),
            tuple([settings[s] for s in self.switches]),
        )
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._demanded(positions, hands, settings, seen)
        return known

    def _demanded(
        self,
        positions: tuple[int, ...],
        hands: tuple[int, ...],
        settings: tuple[int, ...],
        seen: tuple[int, ...],
    ) -> tuple[int, ...]:
        found = set()
        for values in product(*((False, True) if one == 2 else (bool(one),) for one in seen)):
            reads = dict(zip(self.readings, values, strict=True))
            otherwise = self.element.otherwise
            own = positions[self.number] if otherwise is None else otherwise
            moves = self.element.moves
            found.add(
                next(
                    (m.target for m in moves if meets(m.when, positions, hands, settings, reads)),
                    own,
                )
            )
        return tuple(sorted(found))


def meets(
    condition: Condition,
    positions: Sequence[int],
    hands: Sequence[int],
    settings: Sequence[int],
    reads: Mapping[Reading, bool],
) -> bool:
    """Whether what stands so, and reads so, meets a condition of a move or an assumption."""

    def true(part: Condition) -> bool:
        match part:
            case High(volume=volume, reader=reader):
                return reads[reader, volume]
            case Not(of=inner):
                return not true(inner)
            case All(of=parts):
                return all(map(true, parts))
            case Any(of=parts):
                return any(map(true, parts))
            case At(element=element, positions=where):
                return positions[element] in where
            case Hand(hand=hand):
                return bool(hands[hand])
            case Setting(switch=switch, values=wanted):
                return settings[switch] in wanted
            case Always(value=value):
                return value
            case _:
                raise ValueError("moves and assumptions do not speak of paths or of rest")

    return true(condition)


def read_at(circuit: Circuit, element: Element, roots: Sequence[int]) -> Element:
    """The element, reading volumes that are one as one. Who reads several ports of one line reads
    it once (P5), unless a fault divides it; weaving has given him a reading for each port."""

    def at_root(atom: Condition) -> Condition:
        if not isinstance(atom, High):
            return atom
        reader = atom.reader
        if atom.port is not None:
            reader = reader.removesuffix(f", {circuit.ports[atom.port].name}")
        return High(roots[atom.volume], reader)

    moves = (structs.replace(move, when=replace(move.when, at_root)) for move in element.moves)
    return structs.replace(element, moves=tuple(moves))
