"""Among the shortest runs, the one in which least happens."""

from __future__ import annotations

from verifier.engines.engine import Budget
from verifier.engines.walk import EngineError, reached
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.counting import Counter, make_fewest
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Goal, Reached, System, Undecided


class Simplest:
    """Runs of `depth` steps of the whole system, for goals whose shortest runs have that length.

    The budget is for each goal.
    """

    def __init__(self, system: System, depth: int, budget: Budget) -> None:
        self._system = system
        self._depth = depth
        self._budget = budget
        self._solver = SatSolver()
        self._run = Unrolling(system, self._solver)
        for _ in range(depth):
            self._run.extend([system.step_allowed])
        steps = self._run.frames[:-1]
        self._counters = [
            Counter(self._solver, [f.literal(one.literal) for f in steps for one in things])
            for things in (system.events, system.motions)
        ]

    def run_into(self, goal: Goal, engine: str) -> Reached | Undecided:
        """A run into the goal with fewest events, and among those one with fewest motions.

        Undecided if the budget does not last for a run at all; when it lasts for a run but not for
        the minimum, the best run found.
        """
        solver = self._solver
        work = solver.work + self._budget.conflicts
        demands = [self._run.frames[self._depth].literal(goal.bad)]
        answer = solver.solve(demands, self._budget.conflicts)
        if answer is Answer.UNKNOWN:
            reason = (
                f"used up its budget of {self._budget.conflicts} conflicts on a run that exists"
            )
            return Undecided(goal.name, reason, self._depth - 1, engine)
        if answer is Answer.UNSAT:
            raise EngineError(f"a run of {self._depth} steps into {goal.name!r} came and went")
        choices = self._run.choices()
        for counter in self._counters:
            answer, limit = make_fewest(solver, counter, demands, work)
            if answer is not Answer.SAT:
                break
            demands += limit
            choices = self._run.choices()
        return reached(self._system, goal, choices, True, engine)
