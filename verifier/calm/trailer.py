"""A design with all its faults woven in, from which rigs with some of them are made quickly."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from msgspec import structs

from verifier.calm.element import Reading, Thing, read_at
from verifier.calm.rig import Leg, Rig, State
from verifier.calm.signs import spot_of
from verifier.model.circuit import Circuit, Passage, Where
from verifier.model.condition import At, Condition, High
from verifier.model.simplify import FALSE, TRUE, atoms, replace
from verifier.model.strikes import Strike
from verifier.model.weaving import weave
from verifier.model.woven_air import AROUND, CHANCE

HEALTHY: frozenset[str] = frozenset()


class Hole(NamedTuple):
    """A passage into the open that a fault opens. start: the volume that it lets air out of; spot:
    where that is heard."""

    passage: int
    start: int
    spot: str


class Trailer:
    """All hands are held ones: whoever works one keeps it so until nothing moves any more.

    circuit: with the faults woven in. A fault acts throughout in a rig, or does not exist in it.
    held: of each hand whether the design says that it can be held; others are let go again at once.
    own: how many elements the design has; those behind them are faults.
    """

    def __init__(self, circuit: Circuit, strikes: Sequence[Strike]) -> None:
        hands = tuple(structs.replace(hand, held=True) for hand in circuit.hands)
        self.design = structs.replace(circuit, hands=hands, properties=(), accepted=())
        self.held = tuple(hand.held for hand in circuit.hands)
        self.strikes = tuple(strikes)
        woven = weave(self.design, self.strikes)
        self.circuit = woven.circuit
        self.own = len(circuit.elements)
        self.fault = {
            strike.name: element
            for strike, element in zip(woven.strikes, woven.elements, strict=True)
        }
        self.strike_of = dict(zip(woven.elements, woven.strikes, strict=True))
        self._rigs: dict[frozenset[str], Rig] = {}
        named = {volume.name: k for k, volume in enumerate(self.circuit.volumes)}
        self.chance = named.get(CHANCE)
        self.readings = tuple(self._readings(number) for number in range(self.own))
        self.spots = {one.name: spot_of(self.design, one) for one in self.strikes}
        self.holes = tuple(self._holes())
        self._sort_passages(len(circuit.passages))
        self._roots = self._joined(frozenset())
        self._sort_elements()
        self._sort_ways()

    def touched(self, fault: str) -> list[int]:
        """Elements whose moves the fault changes."""
        return self._things_of[self.fault[fault]]

    def rig(self, faults: Iterable[str] = ()) -> Rig:
        """With these faults, by their names, acting throughout; kept for the next time."""
        names = frozenset(faults)
        if names not in self._rigs:
            self._rigs[names] = self._make(names)
        return self._rigs[names]

    def begun(self, faults: Iterable[str] = ()) -> list[State]:
        """The states of that rig when its faults strike at the start of the design (O4)."""
        healthy, rig = self.rig(), self.rig(faults)
        circuit = self.circuit
        start = State(
            tuple(element.start for element in circuit.elements[: self.own]),
            0,
            tuple(int(hand.starts_on) for hand in circuit.hands),
            tuple(switch.start for switch in circuit.switches),
        )
        return list(rig.taken_over(healthy, start))

    def _readings(self, number: int) -> tuple[Reading, ...]:
        """Its readers of lines and ports, each with the volume."""
        return tuple(
            dict.fromkeys(
                (atom.reader, atom.volume)
                for move in self.circuit.elements[number].moves
                for atom in atoms(move.when)
                if isinstance(atom, High) and atom.volume != self.chance
            )
        )

    def _holes(self) -> Iterator[Hole]:
        """Where faults let air out at full bore, so that it is heard."""
        for number, passage in enumerate(self.circuit.passages):
            end = self.circuit.volumes[passage.end]
            if end.name == AROUND and passage.bore == "full":
                for where in passage.where:
                    if where.element >= self.own and 0 not in where.positions:
                        spot = self.spots[self.strike_of[where.element].name]
                        yield Hole(number, passage.start, spot)

    def _sort_passages(self, first_added: int) -> None:
        """Those that are open while nothing fails, and those that each fault opens or shuts. An
        added one that is open while nothing fails is a tube, or part of one: it joins."""
        self._joins: list[int] = []
        self._plain: list[int] = []
        self._by_fault: dict[int, list[int]] = defaultdict(list)
        for number, passage in enumerate(self.circuit.passages):
            faults = [where for where in passage.where if where.element >= self.own]
            for where in faults:
                self._by_fault[where.element].append(number)
            if _met(faults, frozenset()):
                (self._joins if number >= first_added else self._plain).append(number)

    def _sort_elements(self) -> None:
        self._things: list[Thing] = []
        self._things_of: dict[int, list[int]] = defaultdict(list)
        self._readers_of: dict[int, list[int]] = defaultdict(list)
        for number in range(self.own):
            element = self.circuit.elements[number]
            faults = {
                atom.element
                for move in element.moves
                for atom in atoms(move.when)
                if isinstance(atom, At) and atom.element >= self.own
            }
            for fault in sorted(faults):
                self._things_of[fault].append(number)
            for move in element.moves:
                for atom in atoms(move.when):
                    if isinstance(atom, High):
                        self._readers_of[atom.volume].append(number)
            self._things.append(self._thing(number, frozenset(), self._roots))

    def _thing(self, number: int, struck: frozenset[int], roots: Sequence[int]) -> Thing:
        """The element with what the struck faults do to it."""

        def known(atom: Condition) -> Condition:
            if isinstance(atom, At) and atom.element >= self.own:
                return TRUE if int(atom.element in struck) in atom.positions else FALSE
            return atom

        element = self.circuit.elements[number]
        moves = [structs.replace(move, when=replace(move.when, known)) for move in element.moves]
        left = tuple(move for move in moves if move.when != FALSE)
        reduced = structs.replace(element, moves=left)
        return Thing(number, read_at(self.circuit, reduced, roots))

    def _sort_ways(self) -> None:
        self._ways_of: set[int] = {
            where.element
            for network in self.circuit.networks
            for way in network.ways
            for where in way.where
            if where.element >= self.own
        }
        self._legs = self._legs_with(frozenset())

    def _legs_with(self, struck: frozenset[int]) -> tuple[tuple[Leg, ...], ...]:
        return tuple(
            tuple(
                Leg(way.start, way.end, way.one_way, self._rest(way.where))
                for way in network.ways
                if _met([one for one in way.where if one.element >= self.own], struck)
            )
            for network in self.circuit.networks
        )

    def _rest(self, where: Iterable[Where]) -> tuple[tuple[int, frozenset[int]], ...]:
        """What is left to be met by elements of the design."""
        return tuple((w.element, frozenset(w.positions)) for w in where if w.element < self.own)

    def _joined(self, struck: frozenset[int]) -> list[int]:
        """Of each volume the first of those that it is one with."""
        root = list(range(len(self.circuit.volumes)))

        def find(volume: int) -> int:
            while root[volume] != volume:
                root[volume] = root[root[volume]]
                volume = root[volume]
            return volume

        for number in self._joins:
            passage = self.circuit.passages[number]
            if self._open(passage, struck):
                one, other = find(passage.start), find(passage.end)
                root[max(one, other)] = min(one, other)
        return [find(volume) for volume in range(len(root))]

    def _open(self, passage: Passage, struck: frozenset[int]) -> bool:
        return _met([one for one in passage.where if one.element >= self.own], struck)

    def _make(self, names: frozenset[str]) -> Rig:
        struck = frozenset(self.fault[name] for name in names)
        touched = sorted({number for fault in struck for number in self._by_fault[fault]})
        shut = {n for n in touched if not self._open(self.circuit.passages[n], struck)}
        roots = self._roots if shut.isdisjoint(self._joins) else self._joined(struck)
        joins = set(self._joins)
        used = [n for n in self._plain if n not in shut]
        used += [n for n in touched if n not in shut and n not in joins and n not in set(used)]
        things = list(self._things)
        again = {n for fault in struck for n in self._things_of[fault]}
        if roots is not self._roots:
            parted = {v for v, root in enumerate(roots) if root != self._roots[v]}
            again |= {n for v in sorted(parted) for n in self._readers_of[v]}
        for number in sorted(again):
            things[number] = self._thing(number, struck, roots)
        legs = self._legs if struck.isdisjoint(self._ways_of) else self._legs_with(struck)
        passages = [
            (self.circuit.passages[n], self._rest(self.circuit.passages[n].where)) for n in used
        ]
        holes = tuple((h.start, h.spot) for h in self.holes if h.passage in set(used))
        return Rig(self.circuit, self.own, names, roots, tuple(things), passages, holes, legs)


def _met(wheres: Iterable[Where], struck: frozenset[int]) -> bool:
    return all(int(one.element in struck) in one.positions for one in wheres)
