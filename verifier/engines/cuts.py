"""Which faults are enough for a goal: minimal cut sets, by rising order, until there are no more.

A fault is a latch that is false until it strikes and then stays true. A cut set is found where a
run ends in the goal with no other faults struck. Sets of the orders below being complete, what is
found at an order is minimal. That there are no more is a proof like any other, of the system whose
runs are cut short before more faults strike or all of a known set have.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct, structs

from verifier.engines.bounded import Deepening
from verifier.engines.directed import Directed
from verifier.engines.distances import NEVER, Distances
from verifier.engines.engine import Budget
from verifier.engines.relation import Allowance, Exhausted
from verifier.engines.walk import Choices
from verifier.solving.answer import Answer
from verifier.solving.sat_door import SatSolver
from verifier.transition.bounds import Bounds, bounded
from verifier.transition.system import Goal, Proved, Reached, System, Undecided

# Depths at which nothing is found before it is tried to prove that there is no more.
QUIET = 2

CutSet = tuple[int, ...]
"""Faults by their number, ascending."""


class Cut(Struct, frozen=True):
    """A cut set and the steps of a run that shows it."""

    faults: CutSet
    choices: tuple[Choices, ...]


class Complete(Struct, frozen=True):
    """No run with at most `order` faults ends in the goal without all of some known set; `system`
    is the one of which this is claimed."""

    order: int
    system: System
    proof: Proved


class Incomplete(Struct, frozen=True):
    """Nothing is known of this order beyond the sets found."""

    order: int
    reason: str


class Cuts:
    """A search for the cut sets of one goal.

    struck: for each fault the graph literal over the latches that it has struck.
    """

    def __init__(self, system: System, goal: Goal, struck: Sequence[int], budget: Budget) -> None:
        self._system = system
        self._goal = goal
        self._struck = tuple(struck)
        self._budget = budget
        self.found: list[Cut] = []

    def run(self, order: int, first: int = 0) -> Iterator[Cut | Complete | Incomplete]:
        """Cut sets up to this order, and after those of each order whether they are all. first: the
        orders below are known to have none."""
        for count in range(first, order + 1):
            yield from self._of_order(count)
            if self.found and not self.found[0].faults:
                return  # the goal needs no fault

    def _of_order(self, count: int) -> Iterator[Cut | Complete | Incomplete]:
        left = Allowance(self._budget.conflicts)
        near = _Near(self._bounded(count), self._goal, self._struck, left, self._budget.depth)
        far = 0
        try:
            while True:
                for cut in near.cuts(far):
                    self.found.append(cut)
                    yield cut
                    if not cut.faults:
                        return
                system = self._bounded(count)
                finding = Directed().search(system, self._goal, self._within(left))
                if not isinstance(finding, Reached):
                    break
                far = len(finding.choices)
            if isinstance(finding, Undecided):
                yield Incomplete(count, finding.reason)
            else:
                yield Complete(count, system, finding)
        except Exhausted:
            reason = f"used up its budget of {self._budget.conflicts} conflicts"
            yield Incomplete(count, reason)
        finally:
            near.close()

    def _bounded(self, count: int) -> System:
        """At most so many faults strike, and never all of a set that is known."""
        bounds = Bounds(count, tuple(cut.faults for cut in self.found))
        return bounded(self._system, self._struck, bounds)

    def _within(self, left: Allowance) -> Budget:
        return structs.replace(self._budget, conflicts=max(1, left.left))


class _Near:
    """Sets that are shown by runs which are not much longer than they must be."""

    def __init__(
        self, system: System, goal: Goal, struck: Sequence[int], left: Allowance, most: int
    ) -> None:
        self._goal = goal
        self._struck = struck
        self._left = left
        self._most = most
        self._solver = SatSolver()
        distances = Distances(system, [goal.bad, *struck])
        self._nearest = distances.of(goal.bad)
        self._deepening = Deepening(system, self._solver, distances)

    def close(self) -> None:
        self._solver.close()

    def cuts(self, far: int) -> Iterator[Cut]:
        """Those that are new, until some depths beyond `far` show no more."""
        if self._nearest == NEVER:
            return
        deepening = self._deepening
        quiet = max(far, self._nearest) + QUIET
        while deepening.depth <= min(quiet, self._most):
            while self._hit():
                faults = self._faults()
                yield Cut(faults, deepening.choices())
                deepening.forbid([self._struck[one] for one in faults])
                quiet = max(quiet, deepening.depth + QUIET)
            deepening.deeper()

    def _hit(self) -> bool:
        before = self._solver.work
        # What is not encoded before the question has no value in the answer.
        self._deepening.encode(self._struck)
        answer, _ = self._deepening.hits([self._goal.bad], self._left.left)
        self._left.left -= self._solver.work - before
        if answer is Answer.UNKNOWN:
            raise Exhausted
        return answer is Answer.SAT

    def _faults(self) -> CutSet:
        return tuple(k for k, one in enumerate(self._struck) if self._deepening.true(one))
