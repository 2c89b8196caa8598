"""Circuits worked calmly, beside the simulator on random circuits with random faults.

The simulator explores, state by state, everything that a circuit with its faults acting from the
beginning can come to; rigs must find the same, fleets at least that, and what a fleet rules out
must be impossible.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from msgspec import structs

from tests.agreement.circuits import circuit_of
from tests.agreement.faults import random_strike, valid
from verifier.calm.fleet import Fleet
from verifier.calm.lanes import Lane
from verifier.calm.rig import Rig, State
from verifier.calm.runner import run_through, worked
from verifier.calm.script import Happening, Put, Seen
from verifier.calm.settling import Settled, settle
from verifier.calm.showing import shown, values_of, ways
from verifier.calm.signs import Sign, gauges_of, place_of, signs_of
from verifier.calm.trailer import Trailer
from verifier.calm.watching import Watch
from verifier.model.circuit import Circuit
from verifier.model.run import State as Full
from verifier.model.strikes import Strike
from verifier.model.weaving import weave
from verifier.simulation.movement import at_rest, holds_some
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import canonical, kept, moved, start

MOST = 3_000
Resting = set[tuple[tuple[int, ...], ...]]


class TooLarge(Exception):
    """More states than a test looks at."""


def case_of(seed: int) -> tuple[Random, Circuit, tuple[Strike, ...]]:
    """A small random circuit without assumptions, and three faults that do not come and go."""
    random = Random(seed)
    for number in range(seed * 1000, seed * 1000 + 1000):
        circuit = structs.replace(circuit_of(number), assumptions=())
        if valid(circuit) and len(circuit.elements) <= 3 and circuit.hands:
            drawn = [random_strike(random, circuit, k) for k in range(3)]
            found = tuple(structs.replace(one, passing=False, lasting=()) for one in drawn)
            return random, circuit, found
    raise AssertionError(f"no circuit of seed {seed} will do")


def puts_of(random: Random, trailer: Trailer, count: int) -> list[Put]:
    """Hands and switches put somewhere, one after the other."""
    circuit = trailer.circuit
    own, hands = trailer.own, len(trailer.design.hands)
    found = []
    for _ in range(count):
        if hands and random.random() < 0.6:
            found.append(Put(own + random.randrange(hands), random.randrange(2), ""))
        else:
            number = random.randrange(len(trailer.design.switches))
            value = random.randrange(len(circuit.switches[number].values))
            found.append(Put(own + hands + number, value, ""))
    return found


class Explorer:
    """All that the simulator can come to with faults that act from the first step on."""

    def __init__(self, trailer: Trailer, chosen: tuple[Strike, ...]) -> None:
        self.circuit = weave(trailer.design, chosen).circuit
        self.own = trailer.own
        first = start(self.circuit)
        positions = (*first.positions[: self.own], *([1] * len(chosen)))
        self.states = {
            canonical(self.circuit, structs.replace(first, positions=positions, memory=memory))
            for memory in kept(self.circuit, first, positions, first.settings)
        }
        self.settle()

    def put(self, put: Put) -> None:
        fresh = set()
        for state in self.states:
            hands, settings = list(state.hands), list(state.settings)
            if put.thing < self.own + len(hands):
                hands[put.thing - self.own] = bool(put.value)
            else:
                settings[put.thing - self.own - len(hands)] = put.value
            fresh |= set(self._after(state, tuple(hands), tuple(settings)))
        self.states = fresh
        self.settle()

    def settle(self) -> None:
        waiting = list(self.states)
        known = set(waiting)
        for state in waiting:
            for after in self._after(state, state.hands, state.settings):
                if after not in known:
                    known.add(after)
                    waiting.append(after)
            if len(waiting) > MOST:
                raise TooLarge
        self.states = {state for state in known if at_rest(self.circuit, state)}

    def _after(
        self, state: Full, hands: tuple[bool, ...], settings: tuple[int, ...]
    ) -> Iterator[Full]:
        for positions in moved(self.circuit, state, ()):
            if all(positions[self.own :]):
                for memory in kept(self.circuit, state, positions, settings):
                    yield Full(positions, hands, settings, memory)

    def values(self, sign: Sign) -> set[int]:
        """What the sign can show, in some state at rest."""
        found: set[int] = set()
        for state in self.states:
            if sign.element is not None:
                found.add(state.positions[sign.element])
            elif sign.gauge is not None:
                air = pressures(self.circuit, state)
                found |= {1} if air.can_high[sign.gauge] else set()
                found |= {0} if air.can_low[sign.gauge] else set()
            elif sign.volume is not None:
                found.add(int(pressures(self.circuit, state).can_high[sign.volume]))
            else:
                found.add(int(any(holds_some(self.circuit, state, p) for p in sign.paths)))
        return found


def compare_calm(seed: int) -> int:
    """How many looks were compared. Raises AssertionError where they disagree."""
    random, circuit, strikes = case_of(seed)
    trailer = Trailer(circuit, strikes)
    puts = puts_of(random, trailer, 4)
    signs = [one for one in signs_of(trailer.circuit) if not one.added]
    signs += [*gauges_of(trailer.design)]
    signs += [place_of(trailer.design, number) for number in range(trailer.own)]
    cases: list[tuple[Strike, ...]] = [(), *((one,) for one in strikes), strikes[:2]]
    names = [tuple(one.name for one in chosen) for chosen in cases]
    fleet = Fleet(trailer, [Lane(faults) for faults in names])
    fleet.settle()
    explorers = [Explorer(trailer, chosen) for chosen in cases]
    rigs = [trailer.rig(faults) for faults in names]
    beliefs = [settle(r, trailer.begun(f)) for r, f in zip(rigs, names, strict=True)]
    compared = 0
    for put in (None, *puts):
        if put is not None:
            fleet.put(put.thing, put.value)
            fleet.settle()
            for explorer in explorers:
                explorer.put(put)
            beliefs = [worked_on(r, b, put) for r, b in zip(rigs, beliefs, strict=True)]
        cases_now = zip(explorers, rigs, beliefs, strict=True)
        for lane, (explorer, rig, belief) in enumerate(cases_now):
            for sign in signs:
                true = explorer.values(sign)
                compared += 1
                exact: set[int] = set()
                for state in belief.ends:
                    if rig.view(state).rests:
                        exact |= shown(rig, state, sign)
                assert exact == true, (seed, lane, sign.name, exact, true)
                assert true <= possible(fleet, lane, sign), (seed, lane, sign.name)
    return compared


def worked_on(rig: Rig, belief: Settled, put: Put) -> Settled:
    """All that comes of a put in any of the states at rest."""
    begun: set[State] = set()
    for state in belief.ends:
        if rig.view(state).rests:
            begun |= set(rig.successors(state, *worked(rig, state, put)))
    return settle(rig, begun)


def possible(fleet: Fleet, lane: int, sign: Sign) -> set[int]:
    """What the fleet says that the lane may show."""
    look = fleet.look()
    if lane in fleet.lost:
        return set(values_of(fleet, sign))
    found = set()
    for value in values_of(fleet, sign):
        if lane in look.layout.lanes_in(ways(fleet, look, sign, value)):
            found.add(value)
    return found


def compare_explanations(seed: int) -> int:
    """A random fault, worked and looked at in a random order of moves, is always among those that
    explain what it shows; and who explains it is who does by going through all states. How many
    explanations there were."""
    random, circuit, strikes = case_of(seed)
    trailer = Trailer(circuit, strikes)
    names = [(), *((one.name,) for one in strikes)]
    true = random.randrange(1, len(names))
    rig = trailer.rig(names[true])
    state = random.choice(_resting(rig, settle(rig, trailer.begun(names[true]))))
    signs = [one for one in signs_of(trailer.circuit) if not one.added]
    signs += [place_of(trailer.design, number) for number in range(trailer.own)]
    told: list[Happening] = []
    for put in puts_of(random, trailer, 3):
        told.append(put)
        hands, settings = worked(rig, state, put)
        after = random.choice(list(rig.successors(state, hands, settings)))
        state = random.choice(_resting(rig, settle(rig, [after])))
        for sign in random.sample(signs, min(2, len(signs))):
            value = random.choice(sorted(shown(rig, state, sign)))
            told.append(Seen(sign, (value,), sign.name))
            state = random.choice(_resting(rig, settle(rig, [state]), sign, value))
    watch = Watch(trailer, [Lane(faults) for faults in names]).all(told)
    left = {*watch.left, *watch.fleet.lost}
    assert true in left, (seed, names[true])
    count = 0
    for lane, faults in enumerate(names):
        explains = run_through(trailer.rig(faults), trailer.begun(faults), told) is not None
        assert explains == _enumerated(trailer, faults, told), (seed, faults)
        assert lane in left or not explains, (seed, faults)
        count += explains
    return count


def _resting(rig: Rig, settled: Settled, sign: Sign | None = None, value: int = 0) -> list[State]:
    found = sorted(state for state in settled.ends if rig.view(state).rests)
    if sign is not None:
        found = [state for state in found if value in shown(rig, state, sign)] or found
    if not found:
        raise TooLarge
    return found


def _enumerated(trailer: Trailer, faults: tuple[str, ...], told: list[Happening]) -> bool:
    """All states that can have shown it, one happening after the other."""
    rig = trailer.rig(faults)
    ends = settle(rig, trailer.begun(faults)).ends
    for one in told:
        begun: set[State] = set()
        for state in ends:
            if isinstance(one, Put):
                begun |= set(rig.successors(state, *worked(rig, state, one)))
            elif not shown(rig, state, one.sign).isdisjoint(one.values):
                begun.add(state)
        ends = settle(rig, begun).ends
    return bool(ends)
