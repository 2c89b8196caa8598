"""Bounded search with z3: runs of growing length, so that the first found is a shortest."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.engine import Budget
from verifier.engines.slice import slice_of, whole
from verifier.engines.walk import EngineError, reached
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.counting import make_fewest
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
        """Can a run of `depth` steps end in one of `bads`? If so, the indices of those it ends in."""
        frame = self._run.frames[self.depth]
        literals = [frame.literal(bad) for bad in bads]
        wanted = self._solver.fresh()
        self._solver.add([-wanted, *literals])
        answer = self._solver.solve([wanted], self._budget.conflicts - self.work)
        if answer is not Answer.SAT:
            return answer, []
        return answer, [i for i, at in enumerate(literals) if self._solver.value(at)]

    def deeper(self) -> None:
        self._run.extend(self._allowed)
        self.depth += 1


class Bounded:
    """Refutes or finds; cannot prove. `skip`: depths that somebody else has refuted already."""

    name = "bounded"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        return self.search_from(system, goal, budget, 0)

    def search_from(self, system: System, goal: Goal, budget: Budget, skip: int) -> Finding:
        """As `search`, taking it that no run shorter than `skip` steps ends in `goal`."""
        deepening = Deepening(system, [goal.bad], budget)
        while deepening.depth <= budget.depth:
            if deepening.depth >= skip:
                answer, _ = deepening.hits([goal.bad])
                if answer is Answer.UNKNOWN:
                    reason = f"used up its budget of {budget.conflicts} conflicts"
                    return Undecided(goal.name, reason, deepening.depth - 1, self.name)
                if answer is Answer.SAT:
                    left = Budget(budget.conflicts - deepening.work, budget.depth)
                    return simplest(system, goal, deepening.depth, left, self.name)
            deepening.deeper()
        reason = f"no run of up to {budget.depth} steps ends there; it cannot look further"
        return Undecided(goal.name, reason, budget.depth, self.name)


def simplest(
    system: System, goal: Goal, depth: int, budget: Budget, engine: str
) -> Reached | Undecided:
    """Among the runs of `depth` steps into the goal, known to be the shortest, one with fewest events,
    and among those one with fewest motions. Undecided if the budget does not last for a run at all;
    when it lasts for a run but not for the minimum, the best run so far.
    """
    solver = Z3Solver()
    run = Unrolling(system, solver)
    for _ in range(depth):
        run.extend(whole(system).step_allowed)
    solver.add([run.frames[depth].literal(goal.bad)])
    answer = solver.solve([], budget.conflicts)
    if answer is Answer.UNKNOWN:
        reason = f"used up its budget of {budget.conflicts} conflicts on a run that exists"
        return Undecided(goal.name, reason, depth - 1, engine)
    if answer is Answer.UNSAT:
        raise EngineError(f"a run of {depth} steps into {goal.name!r} is there and is not there")
    choices = run.choices()
    for wanted in (system.events, system.motions):
        frames = run.frames[:-1]
        literals = [frame.literal(one.literal) for frame in frames for one in wanted]
        answer, _ = make_fewest(solver, literals, [], budget.conflicts)
        if answer is not Answer.SAT:
            break
        choices = run.choices()
    return reached(system, goal, choices, True, engine)
