"""Goals that are out of reach because all of them together are: the conjunction of "not this goal"
is inductive as it stands, or together with guesses (lasting.py)."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.distances import NEVER, Distances
from verifier.engines.relation import Allowance
from verifier.engines.slice import Slice, disjuncts, slice_of
from verifier.engines.trim import trim
from verifier.solving.answer import Answer
from verifier.solving.cases import batches, possible
from verifier.solving.cnf import Following, Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.graph import Graph
from verifier.transition.system import Lemma, System

# Conflicts spent on all goals at once before they are taken by cases.
AT_ONCE = 200
# Conflicts spent on one round in which goals and guesses are left out.
A_ROUND = 5_000


class Together:
    """One step between states in which no goal is true, for goals (graph literals) that are false
    at the start. Lemmas: latches that never leave their start value, by their distances; and those
    of the guesses, which the start satisfies, that are inductive with them.
    """

    def __init__(
        self,
        system: System,
        goals: Sequence[int],
        distances: Distances,
        allowance: Allowance,
        guesses: Sequence[Lemma] = (),
    ) -> None:
        self._system = system
        self._guesses = tuple(guesses)
        self._allowance = allowance
        self._solver = solver = SatSolver()
        self._part = slice_of(system, goals)
        parts = (part for goal in goals for part in disjuncts(system.graph, goal))
        self._goals = list(dict.fromkeys(parts))
        gates = Gates(solver)
        self._now = Frame(system.graph, gates, {})
        self._then = Following(system, gates, self._now)
        for literal in (*self._part.step_allowed, *self._part.state_allowed):
            solver.add([self._now.literal(literal)])
        self._units = units(system, self._part, distances)
        for ((latch, sign),) in self._units:
            node = system.latches[latch].node
            solver.add([self._now.literal(2 * node ^ (not sign))])
        self._shared, self._rests = _apart(system.graph, self._goals)

    def inductive(self) -> bool:
        """Does no step lead from states without any goal to a goal? Or is there no such state, by
        itself?"""
        if not self._possible(self._now, []):
            return True
        outside = self._solver.fresh()
        for bad in self._goals:
            self._solver.add([-outside, -self._now.literal(bad)])
        return not self._possible(self._then, [outside])

    def settle(self, goals: Sequence[int], rounds: int) -> list[int]:
        """The largest set of these goals for which this is so, found by leaving out what some step
        breaks, goals or guesses; none if so many rounds do not find it."""
        solver = self._solver
        items: list[int | Lemma] = [*goals, *self._guesses]
        switches: dict[int | Lemma, int] = {}
        broken: dict[int | Lemma, list[int]] = {}
        for item in items:
            switches[item] = solver.fresh()
            kept = self._kept(item)
            solver.add([-switches[item], *(self._now.literal(one) for one in kept)])
            broken[item] = [-self._then.literal(one) for one in kept]
        left = list(switches)
        some = {item: self._all_of(literals) for item, literals in broken.items()}
        for _ in range(rounds):
            if not any(isinstance(item, int) for item in left):
                return []
            wanted = self._solver.fresh()
            solver.add([-wanted, *(some[item] for item in left)])
            answer = self._allowance.ask(solver, [wanted, *(switches[i] for i in left)], A_ROUND)
            if answer is Answer.UNSAT:
                self._guesses = tuple(item for item in left if not isinstance(item, int))
                return [item for item in left if isinstance(item, int)]
            if answer is Answer.UNKNOWN:
                return []
            left = [i for i in left if not all(solver.value(one) for one in broken[i])]
        return []

    def _kept(self, item: int | Lemma) -> list[int]:
        """Graph literals one of which is true while the goal is not met, or the guess holds."""
        if isinstance(item, int):
            return [item ^ 1]
        latches = self._system.latches
        return [2 * latches[i].node ^ (not positive) for i, positive in item]

    def _all_of(self, literals: Sequence[int]) -> int:
        if len(literals) == 1:
            return literals[0]
        wanted = self._solver.fresh()
        for one in literals:
            self._solver.add([-wanted, one])
        return wanted

    def lemmas(self, goals: Sequence[int]) -> tuple[Lemma, ...]:
        """What goals that are out of reach together need besides."""
        known = [*self._units, *self._guesses]
        return trim(self._system, self._part, known, kept=[bad ^ 1 for bad in goals])

    def close(self) -> None:
        self._solver.close()

    def _possible(self, frame: Frame, assumed: Sequence[int]) -> bool:
        """Can a goal be true in the frame?"""
        solver, allowance = self._solver, self._allowance
        given = [*assumed, *(frame.literal(one) for one in self._shared)]
        wanted = self._one_of([frame.literal(one) for one in self._rests])
        answer = allowance.ask(solver, [*given, wanted], AT_ONCE)
        if answer is not Answer.UNKNOWN:
            return answer is Answer.SAT

        def ask(case: Sequence[int], most: int | None) -> Answer:
            return allowance.ask(solver, [*given, *case], most)

        nodes = {latch.node for latch in self._system.latches}
        for batch in batches(self._system.graph, self._rests, nodes):
            wanted = self._one_of([frame.literal(one) for one in batch.conditions])
            if possible(ask, wanted, [frame.literal(2 * node) for node in batch.shared]):
                return True
        return False

    def _one_of(self, literals: Sequence[int]) -> int:
        wanted = self._solver.fresh()
        self._solver.add([-wanted, *literals])
        return wanted


def _apart(graph: Graph, goals: Sequence[int]) -> tuple[list[int], list[int]]:
    """Conjuncts that all goals have, as far as their topmost nodes tell, and what is left of each
    goal."""
    shared: list[int] = []
    rests = list(goals)
    while all(not one & 1 and graph.is_and(one >> 1) for one in rests):
        common = set(graph.fanins[rests[0] >> 1])
        common.intersection_update(*(graph.fanins[one >> 1] for one in rests))
        if len(common) != 1:
            break
        (part,) = common
        shared.append(part)
        rests = [a if b == part else b for a, b in (graph.fanins[one >> 1] for one in rests)]
    return shared, rests


def out_of_sight(system: System, goals: Sequence[int], distances: Distances) -> tuple[Lemma, ...]:
    """Lemmas that exclude goals which have no distance."""
    part = slice_of(system, goals)
    return trim(system, part, units(system, part, distances), goals)


def units(system: System, part: Slice, distances: Distances) -> tuple[Lemma, ...]:
    """The latches of the slice that never leave their start value."""
    found: list[Lemma] = []
    for i in part.latches:
        latch = system.latches[i]
        # What has no distance at all is not known.
        starts = 2 * latch.node ^ (not latch.start)
        if distances.of(starts) == 0 and distances.of(starts ^ 1) == NEVER:
            found.append(((i, latch.start),))
    return tuple(found)
