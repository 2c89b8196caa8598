"""Among the shortest runs, the one in which least happens."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.engines.distances import Distances
from verifier.engines.engine import Budget
from verifier.engines.walk import EngineError, reached
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.counting import Counter, make_fewest
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Definition, Goal, Reached, System, Undecided


class _Count(Struct, frozen=True):
    """every: what happens in a run, each time that it does.   different: whether it ever does."""

    every: Counter
    different: Counter


class Simplest:
    """Runs of `depth` steps of the whole system, for goals whose shortest runs have that length.

    The budget is for each goal.
    """

    def __init__(self, system: System, depth: int, budget: Budget) -> None:
        self._system = system
        self._depth = depth
        self._budget = budget
        self._solver = SatSolver()
        events, motions = system.events, system.motions
        roots = [
            *(latch.next for latch in system.latches),
            *(2 * latch.node for latch in system.latches),
        ]
        distances = Distances(system, [*roots, *(one.literal for one in (*events, *motions))])
        self._run = Unrolling(system, self._solver, soonest=distances.of)
        for _ in range(depth):
            self._run.extend([system.step_allowed])
        turned = [events[k] for k in system.surroundings]
        self._counts = [self._count(things) for things in (events, turned, motions)]

    def run_into(self, goal: Goal, engine: str) -> Reached | Undecided:
        """A run into the goal with fewest events, among those with fewest changes of surroundings,
        and among those with fewest motions; of several, the one in which all this comes early.

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
        for count in self._counts:
            # Few different things that happen are soon counted, and no fewer happen in all.
            answer, least = make_fewest(solver, count.different, demands, work)
            if answer is Answer.SAT:
                choices = self._run.choices()
                answer, least = make_fewest(solver, count.every, demands, work, least=least)
            if answer is not Answer.SAT:
                break
            choices = self._run.choices()
            if count is not self._counts[-1]:
                demands += count.every.at_most(least)
        return reached(self._system, goal, choices, True, engine)

    def _count(self, things: Sequence[Definition]) -> _Count:
        steps = self._run.frames[:-1]
        every: list[int] = []
        different: list[int] = []
        for thing in things:
            times = [frame.literal(thing.literal) for frame in steps]
            happens = self._solver.fresh()
            for time in times:
                self._solver.add([-time, happens])
            every += times
            different.append(happens)
        return _Count(Counter(self._solver, every), Counter(self._solver, different))
