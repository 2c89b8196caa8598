"""Refutations of clauses, step by step, for checkers that trust no solver."""

from __future__ import annotations

from collections.abc import Sequence

from pysat.solvers import Solver

from verifier.solving.pulse import beat

SOLVER = "cadical153"


def refute(clauses: Sequence[Sequence[int]]) -> str | None:
    """A DRAT proof as text that the clauses cannot all be true, or None if they can.

    The same clauses give the same proof.
    """
    if not all(clauses):
        return "0\n"
    with Solver(SOLVER, bootstrap_with=clauses, with_proof=True) as solver:
        if solver.solve():
            return None
        return "".join(f"{line.strip()}\n" for line in solver.get_proof())


def impossible(clauses: Sequence[Sequence[int]]) -> bool:
    """Whether the clauses cannot all be true, without a proof of it."""
    if not all(clauses):
        return True
    with Solver(SOLVER, bootstrap_with=clauses) as solver:
        found = solver.solve()
    beat(1)
    return found is False
