"""A trailer with some faults acting, and what can come of each state of it (rules P, M, O).

Written for sets of states, and apart from the simulator, which replays what is found here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from typing import NamedTuple

from msgspec import Struct

from verifier.calm.air import Air, Blow, air_in
from verifier.calm.element import Thing, meets
from verifier.model.circuit import Circuit, Passage
from verifier.model.condition import Condition, Hand, Setting
from verifier.model.simplify import atoms

Terms = tuple[tuple[int, frozenset[int]], ...]
"""Elements and where they must stand."""


class State(NamedTuple):
    """positions: of the design's elements; of those that follow, nothing is kept (their start).
    kept: a bit for each volume of the rig that is cut off and has kept air."""

    positions: tuple[int, ...]
    kept: int
    hands: tuple[int, ...]
    settings: tuple[int, ...]


class Leg(Struct, frozen=True):
    """A way of a network that no fault shuts."""

    start: int
    end: int
    one_way: bool
    where: Terms


class View(NamedTuple):
    """What is so in a state. high, low: a bit for each volume that can be.   options: of each
    element that may move, where it may stand next, its own position first.   rests: none must."""

    high: int
    low: int
    trapped: int
    options: tuple[tuple[int, tuple[int, ...]], ...]
    rests: bool


class Rig:
    """cores: elements whose position is kept in a state.   followers: those that nothing else
    depends on and whose place at rest follows from what they read: they are looked at when all else
    is at rest, as the order of their movements makes no difference."""

    def __init__(
        self,
        circuit: Circuit,
        own: int,
        faults: frozenset[str],
        roots: Sequence[int],
        things: tuple[Thing, ...],
        passages: Sequence[tuple[Passage, Terms]],
        holes: Sequence[tuple[int, str]],
        legs: tuple[tuple[Leg, ...], ...],
    ) -> None:
        self.circuit = circuit
        self.own = own
        self.faults = faults
        self.things = things
        self.legs = legs
        firsts = sorted(set(roots))
        dense = {root: k for k, root in enumerate(firsts)}
        self.roots = tuple(roots)
        self.volume = tuple(dense[root] for root in roots)
        self.count = len(firsts)
        self._seen = tuple(tuple(dense[v] for v in thing.volumes) for thing in things)
        self.cores, self.followers = _cores(circuit, own, things, passages)
        self._blows = [
            Blow(self.volume[p.start], self.volume[p.end], p.bore == "full", p.one_way, terms)
            for p, terms in passages
        ]
        self.holes = tuple((self.volume[start], spot) for start, spot in holes)
        self.sinks = [self.volume[v] for v, one in enumerate(circuit.volumes) if one.open_air]
        self._supplies = [
            (one.switch, circuit.switches[one.switch].values, self.volume[one.volume])
            for one in circuit.supplies
        ]
        self._moved_by = sorted({e for blow in self._blows for e, _ in blow.where})
        self._airs: dict[object, Air] = {}
        self._views: dict[State, View] = {}
        self._allowed: dict[object, bool] = {}

    def allowed(self, hands: tuple[int, ...], settings: tuple[int, ...]) -> bool:
        """Whether the assumptions of the design allow that (O3)."""
        key = hands, settings
        if key not in self._allowed:
            self._allowed[key] = all(
                meets(one.condition, (), hands, settings, {})
                for one in self.circuit.assumptions
                if _of_surroundings(one.condition)
            )
        return self._allowed[key]

    def air(self, positions: tuple[int, ...], settings: tuple[int, ...]) -> Air:
        """What is fed, vented and cut off (P2, P3, P6)."""
        key = (tuple([positions[e] for e in self._moved_by]), settings)
        known = self._airs.get(key)
        if known is None:
            sources, sinks = [], list(self.sinks)
            for switch, values, volume in self._supplies:
                value = values[settings[switch]]
                if value in ("present", "weak"):
                    sources.append(volume)
                if value in ("absent", "weak"):
                    sinks.append(volume)
            known = self._airs[key] = air_in(self.count, self._blows, positions, sources, sinks)
        return known

    def view(self, state: State) -> View:
        known = self._views.get(state)
        if known is None:
            known = self._views[state] = self._view(state)
        return known

    def _view(self, state: State) -> View:
        air = self.air(state.positions, state.settings)
        high, low = air.readings(state.kept)
        options = []
        rests = True
        for number in self.cores:
            own = state.positions[number]
            wanted = self._demanded(number, state, high, low)
            if wanted == (own,):
                continue
            rests = rests and own in wanted
            nexts = {own: None}
            for target in wanted:
                if target != own:
                    nexts[own + (1 if target > own else -1)] = None
            options.append((number, tuple(nexts)))
        return View(high, low, air.trapped, tuple(options), rests)

    def _demanded(self, number: int, state: State, high: int, low: int) -> tuple[int, ...]:
        seen = tuple(
            [2 if high >> v & 1 and low >> v & 1 else high >> v & 1 for v in self._seen[number]]
        )
        return self.things[number].demanded(state.positions, state.hands, state.settings, seen)

    def standing(self, state: State, number: int) -> tuple[int, ...]:
        """Where an element can stand in a state at rest."""
        if number not in self.followers:
            return (state.positions[number],)
        return self.wanted(state, number)

    def wanted(self, state: State, number: int) -> tuple[int, ...]:
        """The positions that the element demands (M2)."""
        view = self.view(state)
        return self._demanded(number, state, view.high, view.low)

    def successors(
        self, state: State, hands: tuple[int, ...], settings: tuple[int, ...]
    ) -> Iterator[State]:
        """Every state after one step with hands and switches put so in it (M3, M4, P4, P5)."""
        view = self.view(state)
        numbers = [number for number, _ in view.options]
        for chosen in product(*(nexts for _, nexts in view.options)):
            positions = state.positions
            if numbers:
                moved = list(positions)
                for number, position in zip(numbers, chosen, strict=True):
                    moved[number] = position
                positions = tuple(moved)
            trapped = self.air(positions, settings).trapped
            for kept in _kept(trapped, view):
                yield State(positions, kept, hands, settings)

    def successors_at(self, state: State, positions: tuple[int, ...]) -> Iterator[State]:
        """Those after a step to these positions; first that with all air kept that can be."""
        trapped = self.air(positions, state.settings).trapped
        for kept in _kept(trapped, self.view(state)):
            yield State(positions, kept, state.hands, state.settings)

    def still(self, state: State) -> Iterator[State]:
        """Those that differ, hands and switches standing still."""
        view = self.view(state)
        if view.options or state.kept:
            for after in self.successors(state, state.hands, state.settings):
                if after != state:
                    yield after

    def taken_over(self, other: Rig, state: State) -> Iterator[State]:
        """States of this rig that follow when what is another rig becomes it, nothing moving: its
        faults strike, or a tube is plugged (P4, P7)."""
        before = other.view(state)
        trapped = self.air(state.positions, state.settings).trapped
        high = low = 0
        for volume, mine in enumerate(self.volume):
            theirs = other.volume[volume]
            high |= (before.high >> theirs & 1) << mine
            low |= ((before.low | before.trapped) >> theirs & 1) << mine
        for kept in _choices(trapped & high & low, trapped & high & ~low):
            yield State(state.positions, kept, state.hands, state.settings)


def _kept(trapped: int, before: View) -> Iterator[int]:
    """What trapped volumes may keep (P4, P5)."""
    either = trapped & before.high & (before.low | before.trapped)
    return _choices(either, trapped & before.high & ~either)


def _choices(either: int, surely: int) -> Iterator[int]:
    """All sets between `surely` and that with `either`."""
    some = either
    while True:
        yield surely | some
        if not some:
            return
        some = (some - 1) & either


def _of_surroundings(condition: Condition) -> bool:
    return all(isinstance(atom, Hand | Setting) for atom in atoms(condition))


def _cores(
    circuit: Circuit,
    own: int,
    things: Sequence[Thing],
    passages: Iterable[tuple[Passage, Terms]],
) -> tuple[tuple[int, ...], frozenset[int]]:
    needed = {e for _, terms in passages for e, _ in terms}
    needed |= {e for thing in things for e in thing.others if e != thing.number}
    followers = frozenset(t.number for t in things if t.plain and t.number not in needed)
    return tuple(t.number for t in things if t.number not in followers), followers
