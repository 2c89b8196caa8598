"""Bounded search with z3: runs of growing length, so that the first found is a shortest."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.engine import Budget
from verifier.engines.simplest import Simplest
from verifier.engines.slice import slice_of
from verifier.engines.walk import reached
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.z3_door import Z3Solver
from verifier.transition.system import Finding, Goal, Reached, System, Undecided


class Deepening:
    """An incremental search for runs into any of several literals, one depth after another.

    depth: all shorter runs have been dealt with by the caller.
    """

    def __init__(self, system: System, bads: Sequence[int], budget: Budget) -> None:
        self.system = system
        self._budget = budget
        self._solver = Z3Solver()
        part = slice_of(system, bads)
        self._allowed = part.step_allowed
        self._run = Unrolling(system, self._solver, part.latches)
        self.depth = 0

    @property
    def work(self) -> int:
        return self._solver.work

    def hits(self, bads: Sequence[int]) -> tuple[Answer, list[int]]:
        """Can a run of `depth` steps end in one of `bads`? If so, indices of those it ends in."""
        frame = self._run.frames[self.depth]
        literals = [frame.literal(bad) for bad in bads]
        wanted = self._solver.fresh()
        self._solver.add([-wanted, *literals])
        answer = self._solver.solve([wanted], self._budget.conflicts - self.work)
        if answer is not Answer.SAT:
            return answer, []
        return answer, [i for i, at in enumerate(literals) if self._solver.value(at)]

    def run_into(self, goal: Goal, engine: str) -> Reached:
        """The run that `hits` just found; `goal` is one of those it ends in, and this depth is the
        first at which it can be reached."""
        return reached(self.system, goal, self._run.choices(), True, engine)

    def deeper(self) -> None:
        self._run.extend(self._allowed)
        self.depth += 1


class Bounded:
    """Refutes or finds; cannot prove."""

    name = "bounded"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        deepening = Deepening(system, [goal.bad], budget)
        while deepening.depth <= budget.depth:
            answer, _ = deepening.hits([goal.bad])
            if answer is Answer.UNKNOWN:
                reason = f"used up its budget of {budget.conflicts} conflicts"
                return Undecided(goal.name, reason, deepening.depth - 1, self.name)
            if answer is Answer.SAT:
                return Simplest(system, deepening.depth, budget).run_into(goal, self.name)
            deepening.deeper()
        reason = f"no run of up to {budget.depth} steps ends there; it cannot look further"
        return Undecided(goal.name, reason, budget.depth, self.name)
