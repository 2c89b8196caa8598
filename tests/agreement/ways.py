"""The system of two ways against the simulator, on one circuit (Q11).

`compare_ways(compiled, states, random)` compares, step by step, what either way does (twofold.py),
what a firm step must not do, and when two ends differ. `compare_ends` asks which elements two ways
can part, and demands what the explicit graph says.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from random import Random

from msgspec import Struct

from tests.agreement.cases import Cases, Disagreement, bits_of
from tests.agreement.drawing import chosen_of, drawn_choices, is_still
from verifier.engines.engine import Budget
from verifier.engines.many import search_many
from verifier.model.run import State
from verifier.simulation.movement import at_rest
from verifier.simulation.races import RaceAnswer, firm_moves
from verifier.simulation.steps import canonical
from verifier.transition.compiled import Compiled
from verifier.transition.decode import encode, state_of
from verifier.transition.system import Reached, Undecided
from verifier.transition.twofold import Twofold, twofold

BUDGET = Budget(conflicts=500_000, depth=80)


def compare_ways(compiled: Compiled, states: Sequence[State], random: Random) -> None:
    """Raises Disagreement."""
    for firm in (False, True):
        _Ways(compiled, twofold(compiled, firm=firm), firm).compare(states, random)


class _Pair(Struct, frozen=True):
    """Where the two ways stand, what is known of time, and the choices of a step from there."""

    first: State
    second: State
    flags: tuple[bool, bool, bool]
    begins: bool
    chosen: tuple[bool, ...]

    @property
    def goes(self) -> State:
        return self.second if self.flags[2] else self.first


class _Ways:
    """The system of two ways."""

    def __init__(self, compiled: Compiled, ways: Twofold, firm: bool) -> None:
        self._compiled, self._circuit = compiled, compiled.circuit
        self._ways, self._firm = ways, firm
        self._moving = sorted(ways.second)

    def compare(self, states: Sequence[State], random: Random) -> None:
        system = self._ways.system
        drawn = [
            self._pair(state, random.choice(states), random, chosen)
            for state in states
            for chosen in drawn_choices(self._compiled, system.choices, state, random)
        ]
        cases = Cases(system, [self._code(one) for one in drawn], [one.chosen for one in drawn])
        base = self._compiled.system
        count = len(base.choices)
        codes = {
            which: [encode(self._compiled, state) for state in some]
            for which, some in (
                ("first", [one.first for one in drawn]),
                ("second", [one.second for one in drawn]),
            )
        }
        choices = [one.chosen[:count] for one in drawn]
        alone = {which: Cases(base, some, choices) for which, some in codes.items()}
        self._compare_latches(cases, alone, drawn, codes)
        self._compare_steps(cases, alone, drawn)
        for k, motion in enumerate(base.motions):
            one_by_one = {
                which: bits_of(some, [motion.literal])[0] for which, some in alone.items()
            }
            told = [
                one_by_one["second" if one.flags[2] else "first"][n] for n, one in enumerate(drawn)
            ]
            cases.check(motion.name, system.motions[k].literal, told)
        self._compare_goals(cases, drawn)

    def _pair(self, state: State, other: State, random: Random, chosen: tuple[bool, ...]) -> _Pair:
        """The ways stand at one state until they part; hands and surroundings are the same."""
        known = random.choice((0, 1, 2, 2, 3, 3))
        flags = (known > 0, known > 1, known > 2)
        second = state
        if flags[1]:
            second = canonical(
                self._circuit, State(other.positions, state.hands, state.settings, other.memory)
            )
        return _Pair(state, second, flags, random.random() < 0.3, chosen)

    def _code(self, one: _Pair) -> list[bool]:
        count = len(self._compiled.system.latches)
        values = [*encode(self._compiled, one.first)]
        second = encode(self._compiled, one.second)
        values += [second[latch] for latch in self._moving]
        if [self._ways.second[latch] for latch in self._moving] != list(range(count, len(values))):
            raise Disagreement("the latches of the second way")
        return [*values, one.begins, *one.flags]

    def _compare_latches(
        self,
        cases: Cases,
        alone: dict[str, Cases],
        drawn: Sequence[_Pair],
        codes: dict[str, list[tuple[bool, ...]]],
    ) -> None:
        system, base = self._ways.system, self._compiled.system
        nexts = {
            which: bits_of(some, [latch.next for latch in base.latches])
            for which, some in alone.items()
        }
        for i, latch in enumerate(base.latches):
            moves = i in self._ways.second
            told = [
                codes["first"][n][i] if moves and one.flags[2] else nexts["first"][i][n]
                for n, one in enumerate(drawn)
            ]
            cases.check(f"first way: {latch.name}", system.latches[i].next, told)
            if moves:
                told = [self._second(one, n, i, nexts, codes) for n, one in enumerate(drawn)]
                there = system.latches[self._ways.second[i]]
                cases.check(f"second way: {latch.name}", there.next, told)
                if there.start != latch.start:
                    raise Disagreement("the second way starts elsewhere")
        later = [self._flags(one) for one in drawn]
        flags = system.latches[-3:]
        for k, latch in enumerate(flags):
            cases.check(latch.name, latch.next, [three[k] for three in later])
        cases.check("first", system.latches[-4].next, [False] * len(drawn))
        if [latch.start for latch in system.latches[-4:]] != [True, False, False, False]:
            raise Disagreement("what is known of time at the start")

    @staticmethod
    def _second(
        one: _Pair,
        case: int,
        latch: int,
        nexts: dict[str, list[list[bool]]],
        codes: dict[str, list[tuple[bool, ...]]],
    ) -> bool:
        if one.flags[2]:
            return nexts["second"][latch][case]
        if one.flags[1]:
            return codes["second"][case][latch]
        return nexts["first"][latch][case]

    def _flags(self, one: _Pair) -> tuple[bool, bool, bool]:
        """After, parted, turned: each may begin with the one before it, and stays."""
        own = len(self._compiled.system.choices)
        ready = one.begins or at_rest(self._circuit, one.first)
        after = one.flags[0] or (one.chosen[own] and ready)
        parted = one.flags[1] or (one.chosen[own + 1] and after)
        return after, parted, one.flags[2] or (one.chosen[own + 2] and parted)

    def _compare_steps(self, cases: Cases, alone: dict[str, Cases], drawn: Sequence[_Pair]) -> None:
        """Once all is still nothing from outside happens; of firm ways, once they have parted, only
        what must move does, one way only, and no volume comes out empty that need not."""
        base = self._compiled.system
        allowed = bits_of(alone["first"], [base.step_allowed])[0]
        nexts = {
            which: list(zip(*bits_of(some, [each.next for each in base.latches]), strict=True))
            for which, some in alone.items()
        }
        told = []
        for n, one in enumerate(drawn):
            fine = allowed[n]
            if one.flags[0]:
                fine = fine and is_still(self._compiled, one.first, one.chosen)
            if one.flags[1] and self._firm:
                which = "second" if one.flags[2] else "first"
                there = state_of(self._compiled, nexts[which][n])
                fine = fine and self._is_firm(one, there)
            told.append(fine)
        cases.check("a step of two ways", self._ways.system.step_allowed, told)

    def _is_firm(self, one: _Pair, there: State) -> bool:
        empty = chosen_of(self._compiled, self._compiled.meaning.encoding.empty, one.chosen)
        moves = firm_moves(self._circuit, one.goes)
        pairs = enumerate(zip(one.goes.positions, there.positions, strict=True))
        return not any(empty.values()) and all(b in (a, moves.get(e)) for e, (a, b) in pairs)

    def _compare_goals(self, cases: Cases, drawn: Sequence[_Pair]) -> None:
        over = [
            one.flags[1]
            and at_rest(self._circuit, one.first)
            and at_rest(self._circuit, one.second)
            for one in drawn
        ]
        every = [False] * len(drawn)
        for e, goal in enumerate(self._ways.goals):
            told = [
                rest and one.first.positions[e] != one.second.positions[e]
                for rest, one in zip(over, drawn, strict=True)
            ]
            every = [a or b for a, b in zip(every, told, strict=True)]
            cases.check(goal.name, goal.bad, told)
        cases.check("any end", self._ways.whole.bad, every)


def compare_ends(compiled: Compiled, truth: RaceAnswer) -> Counter[str]:
    """What two ways can part is what the explicit graph says. How often what was found."""
    said: Counter[str] = Counter()
    for firm, true in ((False, truth.apart), (True, truth.firm)):
        ways = twofold(compiled, firm=firm)
        findings = [
            *search_many(ways.system, ways.goals, BUDGET),
            *search_many(ways.system, [ways.whole], BUDGET),
        ]
        expected = [e in true for e in range(len(ways.goals))] + [bool(true)]
        for finding, apart in zip(findings, expected, strict=True):
            if isinstance(finding, Undecided):
                said["ends undecided"] += 1
            elif isinstance(finding, Reached) != apart:
                raise Disagreement(f"{finding.goal}, firm: {firm}; the graph says {apart}")
            else:
                said["ends apart" if apart else "ends alike"] += 1
    return said
