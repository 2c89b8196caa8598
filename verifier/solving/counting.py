"""Fewest true literals: how a solver is brought to a model in which as few as possible hold."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.solving.answer import Answer
from verifier.solving.solver import ClauseSolver


class Counter:
    """A sequential counter over literals: `over(k)` is true whenever more than k of them are.

    It grows column by column, since the least number is mostly small.
    """

    def __init__(self, solver: ClauseSolver, literals: Sequence[int]) -> None:
        self._solver = solver
        self.literals = tuple(sorted(literals))
        self._columns: list[list[int]] = []

    def over(self, most: int) -> int:
        """A literal that is true if more than `most` of the literals are. `most` < their number."""
        while len(self._columns) <= most:
            self._add_column()
        return self._columns[most][-1]

    def at_most(self, number: int) -> list[int]:
        """Assumptions that no more than `number` of the literals are true: one, or none if it is so
        anyway."""
        return [-self.over(number)] if number < len(self.literals) else []

    def _add_column(self) -> None:
        """Row i of column k is true if more than k of the first i + 1 literals are."""
        solver = self._solver
        before = self._columns[-1] if self._columns else None
        column: list[int] = []
        for i, literal in enumerate(self.literals):
            cell = solver.fresh()
            if column:
                solver.add([-column[-1], cell])
            if before is None:
                solver.add([-literal, cell])
            elif i:
                solver.add([-literal, -before[i - 1], cell])
            column.append(cell)
        self._columns.append(column)


def make_fewest(
    solver: ClauseSolver,
    counter: Counter,
    assumptions: Sequence[int],
    work: int,
    *,
    least: int = 0,
) -> tuple[Answer, int]:
    """Find the least number of the counter's literals that can be true under the assumptions, and
    leave the solver with a model of it. SAT, and the number; UNSAT if nothing satisfies the
    assumptions; UNKNOWN when `solver.work` passed `work` before the number was certain.

    least: a number below which it is known not to be.
    """
    free = sorted(set(counter.literals))
    shown = 0
    # Each core shows a set of literals one of which must be true; disjoint ones add up.
    while True:
        answer = solver.solve([*assumptions, *(-literal for literal in free)], work - solver.work)
        if answer is Answer.UNKNOWN:
            return answer, 0
        if answer is Answer.SAT:
            break
        core = {-literal for literal in solver.core()} & set(free)
        if not core:
            return Answer.UNSAT, 0
        shown += 1
        free = [literal for literal in free if literal not in core]
    most = sum(solver.value(literal) for literal in counter.literals)
    least = max(least, shown)
    if least == most:
        return Answer.SAT, least
    while least < most:
        answer = solver.solve([*assumptions, *counter.at_most(least)], work - solver.work)
        if answer is not Answer.UNSAT:
            return answer, least
        least += 1
    return solver.solve([*assumptions, *counter.at_most(least)], work - solver.work), least
