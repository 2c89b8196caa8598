"""The door to z3. Nothing outside `verifier.solving` imports z3; evidence takes it from here.

Clauses reach z3 as DIMACS text: measured against building terms, it is five times as fast, and z3's
finite-domain solver keeps what it learned between calls.
"""

from __future__ import annotations

import signal
from collections.abc import Sequence
from typing import Any

import z3
from z3 import z3core
from z3.z3consts import Z3_L_TRUE

from verifier.solving.answer import Answer
from verifier.solving.pulse import beat

__all__ = ["Z3Solver", "answer_of", "z3"]

# Left to itself z3 catches the interrupt and answers that it does not know. Where the signal is to
# end the process, it shall.
if signal.getsignal(signal.SIGINT) is signal.SIG_DFL:
    z3.set_param("ctrl_c", False)


def answer_of(said: Any) -> Answer:
    """z3's own answer as ours; anything but sat and unsat is UNKNOWN."""
    if said == z3.sat:
        return Answer.SAT
    return Answer.UNSAT if said == z3.unsat else Answer.UNKNOWN


class Z3Solver:
    """A `ClauseSolver` by z3, in a context of its own."""

    def __init__(self) -> None:
        self._context = z3.Context()
        self._solver = z3.SolverFor("QF_FD", ctx=self._context)
        self._solver.set("random_seed", 0)
        self._pending: list[str] = []
        self._constants: dict[int, Any] = {}
        self._declarations: dict[int, Any] = {}
        self._model: Any = None
        self._core: list[int] = []
        self._variables = 0
        self._conflicts = 0
        self.work = 0

    def fresh(self) -> int:
        self._variables += 1
        return self._variables

    def add(self, clause: Sequence[int]) -> None:
        self._pending.append(" ".join(map(str, clause)) + " 0")

    def solve(self, assumptions: Sequence[int], conflicts: int) -> Answer:
        if conflicts <= 0:
            return Answer.UNKNOWN
        self._flush()
        self._solver.set("max_conflicts", conflicts)
        terms = [self._term(literal) for literal in assumptions]
        answer = answer_of(self._solver.check(*terms))
        total = self._count()
        work = 1 + max(0, total - self._conflicts)
        self.work += work
        beat(work)
        self._conflicts = total
        if answer is Answer.SAT:
            self._model = self._solver.model()
        elif answer is Answer.UNSAT:
            self._core = [_literal(term) for term in self._solver.unsat_core()]
        return answer

    def value(self, literal: int) -> bool:
        # z3's own `model[constant]` checks and wraps each value, at thirty times the cost.
        context, declaration = self._context.ref(), self._declaration(abs(literal))
        truth = z3core.Z3_model_get_const_interp(context, self._model.model, declaration)
        # A constant that the model leaves open has a null pointer for its value.
        known_true = bool(truth.value) and z3core.Z3_get_bool_value(context, truth) == Z3_L_TRUE
        return known_true == (literal > 0)

    def core(self) -> list[int]:
        return self._core

    def _flush(self) -> None:
        if self._pending:
            head = f"p cnf {self._variables} {len(self._pending)}\n"
            self._solver.from_string(head + "\n".join(self._pending) + "\n")
            self._pending = []

    def _count(self) -> int:
        try:
            return int(self._solver.statistics().get_key_value("sat conflicts"))
        except z3.Z3Exception:
            # z3 leaves out what has not happened.
            return 0

    def _constant(self, variable: int) -> Any:
        constant = self._constants.get(variable)
        if constant is None:
            # z3 names variable v of a DIMACS text by the number v, which is not the text "k!v".
            constant = self._constants[variable] = z3.Bool(variable, self._context)
        return constant

    def _declaration(self, variable: int) -> Any:
        declaration = self._declarations.get(variable)
        if declaration is None:
            declaration = self._declarations[variable] = self._constant(variable).decl().ast
        return declaration

    def _term(self, literal: int) -> Any:
        constant = self._constant(abs(literal))
        return constant if literal > 0 else z3.Not(constant)


def _literal(term: Any) -> int:
    if z3.is_not(term):
        return -_literal(term.arg(0))
    return int(term.decl().name().removeprefix("k!"))
