"""Which faults are enough for a goal in runs that are not much longer than they must be.

A fault is a latch that is false until it strikes and then stays true. A set is found where a run
ends in the goal with no other faults struck.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from verifier.engines.bounded import Deepening
from verifier.engines.distances import NEVER, Distances
from verifier.engines.relation import Allowance, Exhausted
from verifier.engines.walk import Choices
from verifier.solving.answer import Answer
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Goal, System

# Depths at which nothing is found before it is tried to prove that there is no more.
QUIET = 2

CutSet = tuple[int, ...]
"""Faults by their number, ascending."""


class Cut(Struct, frozen=True):
    """A cut set and the steps of a run that shows it."""

    faults: CutSet
    choices: tuple[Choices, ...]


class Near:
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
