"""The one interface behind which clause solvers stand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from verifier.solving.answer import Answer


class ClauseSolver(Protocol):
    """An incremental solver of clauses.

    A literal is a non-zero int: variable v as v, its negation as -v. Variables come from `fresh`
    and count up from 1. The same calls give the same answers, models and cores on every run.

    work: conflicts of all calls so far, plus one for each call, so that many easy calls cost too.
    """

    work: int

    def fresh(self) -> int:
        """A new variable."""
        ...

    def add(self, clause: Sequence[int]) -> None:
        """Demand that one of the literals is true."""
        ...

    def solve(self, assumptions: Sequence[int], conflicts: int) -> Answer:
        """Can all clauses and assumptions be true? UNKNOWN after about `conflicts` conflicts."""
        ...

    def value(self, literal: int) -> bool:
        """Truth of a literal in the model of the last call, which was SAT."""
        ...

    def core(self) -> list[int]:
        """Assumptions of the last call, which was UNSAT, that suffice for it. May be empty."""
        ...
