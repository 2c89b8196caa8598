"""What is asked of orders of movements against the simulator, on one circuit (Q11).

`compare_orders` compares both systems behind *no race*, from states that runs lead to and others.
`compare_steps` does so with what racing.py asks of one step of movements, as its own text says it:
readings, leaks, order in its three cases, torn elements, loose elements put elsewhere, and how
`after` begins. For the other system see ways.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from msgspec import Struct, structs

from tests.agreement.cases import Cases, Disagreement, bits_of
from tests.agreement.drawing import chosen_of, drawn_choices, is_still
from tests.agreement.ways import compare_ways
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.explore import Exploration
from verifier.simulation.judging import fights
from verifier.simulation.movement import at_rest, demanded
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import canonical
from verifier.transition.compiled import Compiled
from verifier.transition.decode import encode
from verifier.transition.racing import Case, Racing, racing_of

CASES: tuple[Case, ...] = ("plain", "firm", "persistent")
# States looked at.
MOST_STATES = 12

Row = tuple[bool, bool, bool]
Moves = tuple[bool, bool]


def compare_steps(compiled: Compiled, states: Sequence[State], random: Random) -> None:
    """Raises Disagreement."""
    elements = compiled.circuit.elements
    two = [e for e, element in enumerate(elements) if len(element.positions) == 2]
    for case in CASES:
        some = [e for e in two if random.random() < 0.5] if case != "persistent" else []
        for loose in dict.fromkeys(((), tuple(some))):
            _Steps(compiled, racing_of(compiled, case, loose), case, loose).compare(states, random)


def rows_of(circuit: Circuit, state: State) -> list[Row]:
    """Of each element, whether it may go up, may go down, and must move, no hand acting (M3)."""
    air = pressures(circuit, state)
    found = []
    for element, own in enumerate(state.positions):
        targets = demanded(circuit, state, air, element, ())
        up, down = any(t > own for t in targets), any(t < own for t in targets)
        found.append((up, down, own not in targets))
    return found


class _Drawn(Struct, frozen=True):
    """A state, what is known of time, and the choices of a step from there."""

    state: State
    after: bool
    first: bool
    chosen: tuple[bool, ...]


class _Steps:
    """One system of racing.py."""

    def __init__(
        self, compiled: Compiled, racing: Racing, case: Case, loose: tuple[int, ...]
    ) -> None:
        self._compiled, self._circuit = compiled, compiled.circuit
        self._racing, self._case, self._loose = racing, case, loose
        self._rows: dict[State, list[Row]] = {}
        self._own = len(compiled.system.latches)

    def compare(self, states: Sequence[State], random: Random) -> None:
        drawn = [
            _Drawn(state, random.random() < 0.75, random.random() < 0.3, chosen)
            for state in states
            for chosen in drawn_choices(self._compiled, self._racing.system.choices, state, random)
        ]
        marks = len(self._racing.system.latches) - self._own - 2
        codes = [
            (*encode(self._compiled, one.state), one.after, one.first, *(False,) * marks)
            for one in drawn
        ]
        cases = Cases(self._racing.system, codes, [one.chosen for one in drawn])
        self._compare_time(cases, drawn)
        self._compare_states(cases, drawn)
        self._compare_orders(cases, drawn)
        if self._racing.loose is not None:
            felt = [one.after and self._felt(one) for one in drawn]
            cases.check("loose", self._mark(self._racing.loose.bad), felt)

    def _compare_time(self, cases: Cases, drawn: Sequence[_Drawn]) -> None:
        system, own = self._racing.system, len(self._compiled.system.choices)
        begun = [
            one.after or (one.chosen[own] and (one.first or at_rest(self._circuit, one.state)))
            for one in drawn
        ]
        cases.check("after", system.latches[self._own].next, begun)
        cases.check("first", system.latches[self._own + 1].next, [False] * len(drawn))
        allowed = bits_of(cases, [self._compiled.system.step_allowed])[0]
        still = [not one.after or is_still(self._compiled, one.state, one.chosen) for one in drawn]
        pairs = [a and b for a, b in zip(allowed, still, strict=True)]
        cases.check("a step while all is still", system.step_allowed, pairs)

    def _compare_states(self, cases: Cases, drawn: Sequence[_Drawn]) -> None:
        circuit = self._circuit
        weak = any("weak" in circuit.switches[one.switch].values for one in circuit.supplies)
        open_ = [
            any((up and down) or ((up or down) and not must) for up, down, must in self._row(state))
            for state in (one.state for one in drawn)
        ]
        read = open_
        if not weak and not self._compiled.memory_latches:
            read = [fights(circuit, one.state) for one in drawn]
            if any(a and not b for a, b in zip(open_, read, strict=True)):
                raise Disagreement("an element has a choice, and supply and exhaust do not fight")
        after = [one.after for one in drawn]
        told = [a and b for a, b in zip(after, read, strict=True)]
        cases.check("readings", self._racing.readings.bad, told)
        leaks = [one.after and self._row(one.state) != self._dry(one.state) for one in drawn]
        cases.check("leaks", self._racing.leaks.bad, leaks)

    def _compare_orders(self, cases: Cases, drawn: Sequence[_Drawn]) -> None:
        """Where an element might go either way, only the firm case says what a step does."""
        torn = [any(up and down for up, down, _ in self._dry(one.state)) for one in drawn]
        clear = [self._case == "firm" or not t for t in torn]
        elements = range(len(self._circuit.elements))
        spoilt = [[self._spoilt(one, e) for e in elements] for one in drawn]
        for e in elements:
            found = bits_of(cases, [self._racing.spoilt[e]])[0]
            wrong = [k for k, bit in enumerate(found) if clear[k] and bit != spoilt[k][e]]
            if wrong:
                raise Disagreement(
                    f"{self._case} order of {self._circuit.elements[e].name}"
                    f" in {drawn[wrong[0]]}: simulator says {spoilt[wrong[0]][e]}"
                )
        apart = [
            self._case == "firm"
            and any(up and down and must for up, down, must in self._dry(one.state))
            for one in drawn
        ]
        found = bits_of(cases, [self._mark(self._racing.order.bad)])[0]
        for k, one in enumerate(drawn):
            if clear[k] and found[k] != (one.after and (apart[k] or any(spoilt[k]))):
                raise Disagreement(f"{self._case} order in {one}: the system says {found[k]}")

    def _mark(self, bad: int) -> int:
        """What a mark that a goal is becomes in a step."""
        latches = self._racing.system.latches
        (latch,) = (latch for latch in latches if 2 * latch.node == bad)
        return latch.next

    def _row(self, state: State) -> list[Row]:
        if state not in self._rows:
            self._rows[state] = rows_of(self._circuit, state)
        return self._rows[state]

    def _dry(self, state: State) -> list[Row]:
        return self._row(structs.replace(state, memory=(False,) * len(state.memory)))

    def _moves(self, state: State, element: int) -> Moves:
        up, down, must = self._dry(state)[element]
        if self._case == "firm":
            return must and up and not down, must and down and not up
        return up, down

    def _spoilt(self, one: _Drawn, element: int) -> bool:
        """The element must move, others do before it, and what follows is in no case of *order*."""
        go = chosen_of(self._compiled, self._compiled.meaning.encoding.go, one.chosen)
        if go.get(element, False):
            return False
        state = one.state
        early = [e for e in range(len(state.positions)) if go.get(e, False)]
        there = self._put(state, {e: self._onward(state, e) for e in early})
        for way, by in enumerate((1, -1)):
            if not self._moves(state, element)[way]:
                continue
            fine = self._moves(there, element)[way]
            along = self._put(there, {element: state.positions[element] + by})
            if self._case != "persistent":
                fine = fine or self._moves(along, element)[1 - way]
            if element in self._loose:
                content = not self._dry(there)[element][2] and not self._dry(along)[element][2]
                fine = fine or content
            if not fine:
                return True
        return False

    def _onward(self, state: State, element: int) -> int:
        up, down = self._moves(state, element)
        return state.positions[element] + up - down

    def _put(self, state: State, where: dict[int, int]) -> State:
        positions = tuple(where.get(e, own) for e, own in enumerate(state.positions))
        return structs.replace(state, positions=positions, memory=(False,) * len(state.memory))

    def _felt(self, one: _Drawn) -> bool:
        """With loose elements elsewhere, all of them content here and there, another element's
        demand is another one."""
        own = len(self._compiled.system.choices) + 1
        flags = one.chosen[own : own + len(self._loose)]
        put = [e for e, flag in zip(self._loose, flags, strict=True) if flag]
        there = self._put(one.state, {e: 1 - one.state.positions[e] for e in put})
        here, then = self._dry(one.state), self._dry(there)
        if any(here[e][2] or then[e][2] for e in put):
            return False
        return any(here[e] != then[e] for e in range(len(here)) if e not in put)


def compare_orders(
    compiled: Compiled, exploration: Exploration, seed: int, most: int = MOST_STATES
) -> None:
    """Both systems from states of the exploration, and from some that no run leads to."""
    random = Random(seed)
    states = random.sample(exploration.states, min(len(exploration.states), most))
    others = [random.choice(states) for _ in range(most // 3)]
    states += [_elsewhere(compiled.circuit, state, random) for state in others]
    compare_steps(compiled, states, random)
    compare_ways(compiled, states, random)


def _elsewhere(circuit: Circuit, state: State, random: Random) -> State:
    positions = tuple(random.randrange(len(element.positions)) for element in circuit.elements)
    memory = tuple(random.random() < 0.5 for _ in circuit.volumes)
    return canonical(circuit, State(positions, state.hands, state.settings, memory))
