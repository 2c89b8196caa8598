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
from verifier.engines.walk import Choices, walk
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

    def run(self, order: int) -> Iterator[Cut | Complete | Incomplete]:
        """Cut sets up to this order, and after those of each order whether they are all."""
        for count in range(order + 1):
            yield from self._of_order(count)
            if self.found and not self.found[0].faults:
                return  # the goal needs no fault

    def _of_order(self, count: int) -> Iterator[Cut | Complete | Incomplete]:
        spent = 0
        while True:
            bounds = Bounds(count, tuple(cut.faults for cut in self.found))
            system = bounded(self._system, self._struck, bounds)
            solver = SatSolver()
            try:
                yield from self._near(system, count, solver, self._budget.conflicts - spent)
            finally:
                spent += solver.work
                solver.close()
            bounds = Bounds(count, tuple(cut.faults for cut in self.found))
            system = bounded(self._system, self._struck, bounds)
            left = structs.replace(self._budget, conflicts=max(1, self._budget.conflicts - spent))
            finding = Directed().search(system, self._goal, left)
            if isinstance(finding, Reached):
                yield self._keep(finding.choices, finding.states[-1])
                continue
            if isinstance(finding, Undecided):
                yield Incomplete(count, finding.reason)
            else:
                yield Complete(count, system, finding)
            return

    def _near(self, system: System, count: int, solver: SatSolver, conflicts: int) -> Iterator[Cut]:
        """Sets that runs show which are not much longer than they must be."""
        distances = Distances(system, [self._goal.bad, *self._struck])
        if distances.of(self._goal.bad) == NEVER:
            return
        deepening = Deepening(system, solver, distances)
        quiet = 0
        while quiet < QUIET and deepening.depth < self._budget.depth:
            fresh = 0
            while True:
                answer, _ = deepening.hits([self._goal.bad], conflicts - solver.work)
                if answer is Answer.UNKNOWN:
                    return
                if answer is Answer.UNSAT:
                    break
                cut = self._keep(deepening.choices())
                deepening.forbid([self._struck[one] for one in cut.faults])
                fresh += 1
                yield cut
                if not cut.faults:
                    return
            if deepening.depth >= distances.of(self._goal.bad):
                quiet = 0 if fresh else quiet + 1
            deepening.deeper()

    def _keep(self, choices: Sequence[Choices], end: Sequence[bool] | None = None) -> Cut:
        if end is None:
            states = walk(self._system, choices)
            if states is None:
                raise AssertionError("a run that was just found is not allowed")
            end = states[-1]
        values = {latch.node: bit for latch, bit in zip(self._system.latches, end, strict=True)}
        told = self._system.graph.evaluate(self._struck, values)
        cut = Cut(tuple(k for k, yes in enumerate(told) if yes), tuple(choices))
        self.found.append(cut)
        return cut
