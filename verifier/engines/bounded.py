"""Bounded search: runs of growing length, so that the first found is a shortest."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.distances import NEVER, Distances
from verifier.engines.engine import Budget
from verifier.engines.simplest import Simplest
from verifier.engines.slice import conjuncts
from verifier.engines.walk import Choices, reached
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.solver import ClauseSolver
from verifier.solving.z3_door import Z3Solver
from verifier.transition.system import Finding, Goal, Reached, System, Undecided


class Deepening:
    """An incremental search for runs into any of several literals, one depth after another.

    depth: all shorter runs have been dealt with by the caller.
    """

    def __init__(self, system: System, solver: ClauseSolver, distances: Distances) -> None:
        self.system = system
        self._solver = solver
        self._distances = distances
        self._allowed = conjuncts(system.graph, system.step_allowed)
        self._run = Unrolling(system, self._solver, soonest=distances.of)
        self._forbidden: list[tuple[int, ...]] = []
        self.depth = 0

    def hits(self, bads: Sequence[int], conflicts: int) -> tuple[Answer, list[int]]:
        """Can a run of `depth` steps end in one of `bads`? If so, those that it ends in."""
        near = [bad for bad in bads if self._distances.of(bad) <= self.depth]
        if not near:
            return Answer.UNSAT, []
        frame = self._run.frames[self.depth]
        wanted = self._solver.fresh()
        self._solver.add([-wanted, *map(frame.literal, near)])
        answer = self._solver.solve([wanted], conflicts)
        if answer is not Answer.SAT:
            return answer, []
        return answer, [bad for bad in near if self._solver.value(frame.literal(bad))]

    def forbid(self, literals: Sequence[int]) -> None:
        """No more runs, of this length or longer, in whose last state all the literals are true;
        they must stay true once they are."""
        self._forbidden.append(tuple(literals))
        self._forbid_here(literals)

    def encode(self, literals: Sequence[int]) -> None:
        """Graph literals whose truth at the end of the run that `hits` finds next is wanted."""
        for one in literals:
            self._run.frames[self.depth].literal(one)

    def true(self, literal: int) -> bool:
        """The truth of one of the literals so encoded at the end of the run just found."""
        return self._solver.value(self._run.frames[self.depth].literal(literal))

    def choices(self) -> tuple[Choices, ...]:
        """The run that `hits` just found."""
        return self._run.choices()

    def run_into(self, goal: Goal, engine: str) -> Reached:
        """The run that `hits` just found; `goal` is one of those it ends in, and this depth is the
        first at which it can be reached."""
        return reached(self.system, goal, self._run.choices(), True, engine)

    def deeper(self) -> None:
        self._run.extend(self._allowed)
        self.depth += 1
        for literals in self._forbidden:
            self._forbid_here(literals)

    def _forbid_here(self, literals: Sequence[int]) -> None:
        frame = self._run.frames[self.depth]
        self._solver.add([-frame.literal(one) for one in literals])


class Bounded:
    """z3 as a searcher: refutes or finds; cannot prove."""

    name = "bounded"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        solver = Z3Solver()
        distances = Distances(system, [goal.bad])
        deepening = Deepening(system, solver, distances)
        near = distances.of(goal.bad)
        last = budget.depth + (near if near < NEVER else 0)
        while deepening.depth <= last:
            answer, _ = deepening.hits([goal.bad], budget.conflicts - solver.work)
            if answer is Answer.UNKNOWN:
                reason = f"used up its budget of {budget.conflicts} conflicts"
                return Undecided(goal.name, reason, deepening.depth - 1, self.name)
            if answer is Answer.SAT:
                return Simplest(system, deepening.depth, budget).run_into(goal, self.name)
            deepening.deeper()
        reason = f"no run of up to {last} steps ends there; it cannot look further"
        return Undecided(goal.name, reason, last, self.name)
