"""The door to python-sat: a small fast solver for many small questions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pysat.solvers import Solver

from verifier.solving.answer import Answer
from verifier.solving.pulse import beat

MINISAT = "minisat22"

# What a call costs besides its propagations, in propagations.
CALL = 200


class SatSolver:
    """A `ClauseSolver` by one of python-sat's solvers that know cores and conflict budgets.

    MiniSat: measured on the library against CaDiCaL and Glucose, it is as fast or faster for both
    uses here, and its budget is exact.

    effort: a count that goes with the time that was spent, for those who share it out.
    """

    def __init__(self, name: str = MINISAT) -> None:
        self._solver: Any = Solver(name=name)
        self._model: list[int] = []
        self._core: list[int] = []
        self._variables = 0
        self._conflicts = 0
        self._propagations = 0
        self.work = 0
        self.effort = 0

    def fresh(self) -> int:
        self._variables += 1
        return self._variables

    def add(self, clause: Sequence[int]) -> None:
        self.effort += len(clause)
        self._solver.add_clause(clause)

    def solve(self, assumptions: Sequence[int], conflicts: int) -> Answer:
        if conflicts <= 0:
            return Answer.UNKNOWN
        self._solver.conf_budget(conflicts)
        # Else python-sat puts a handler of its own in the place of ours for SIGINT while it solves.
        said = self._solver.solve_limited(assumptions=assumptions, expect_interrupt=True)
        self._count()
        if said is None:
            return Answer.UNKNOWN
        if said:
            self._model = self._solver.get_model()
            return Answer.SAT
        self._core = list(self._solver.get_core() or ())
        return Answer.UNSAT

    def value(self, literal: int) -> bool:
        index = abs(literal) - 1
        # A variable in no clause has no place in the model; any value does, so take false.
        positive = index < len(self._model) and self._model[index] > 0
        return positive == (literal > 0)

    def core(self) -> list[int]:
        return self._core

    def close(self) -> None:
        """Free the solver's memory; it must not be used afterwards."""
        self._solver.delete()

    def _count(self) -> None:
        stats = self._solver.accum_stats()
        work = 1 + stats["conflicts"] - self._conflicts
        self.work += work
        beat(work)
        self.effort += CALL + stats["propagations"] - self._propagations
        self._conflicts, self._propagations = stats["conflicts"], stats["propagations"]


def solve_once(clauses: Sequence[Sequence[int]], conflicts: int) -> tuple[Answer, frozenset[int]]:
    """Can all clauses be true? If so, with which of them true. UNKNOWN after `conflicts`."""
    with Solver(name=MINISAT, bootstrap_with=clauses) as solver:
        solver.conf_budget(conflicts)
        said = solver.solve_limited(expect_interrupt=True)
        if said is None:
            return Answer.UNKNOWN, frozenset()
        return (Answer.SAT, frozenset(solver.get_model())) if said else (Answer.UNSAT, frozenset())
