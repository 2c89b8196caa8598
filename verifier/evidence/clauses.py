"""Graphs as clauses in DIMACS text, and a fresh solver that is told them.

A translation of its own, shared with no engine, for questions about very many goals; `script` has
one in SMT-LIB for the others. z3 reads clauses some ten times as fast as terms.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from verifier.evidence.error import EvidenceError
from verifier.solving.answer import Answer
from verifier.solving.z3_door import answer_of, z3
from verifier.transition.graph import Graph


class Clauses:
    """Variables count from 1; a literal is a variable or its negative. `TRUE` is always true."""

    TRUE = 1

    def __init__(self) -> None:
        self.variables = 1
        self._pending = ["1 0"]
        self._gates: dict[tuple[int, int], int] = {}

    def fresh(self) -> int:
        self.variables += 1
        return self.variables

    def demand(self, literals: Iterable[int]) -> None:
        """One of them is true."""
        self._pending.append(f"{' '.join(map(str, literals))} 0")

    def both(self, a: int, b: int) -> int:
        """A literal that is true exactly when both are."""
        if a > b:
            a, b = b, a
        if a in (-1, -b) or b == -1:
            return -1
        if a in (1, b):
            return b
        if b == 1:
            return a
        gate = self._gates.get((a, b))
        if gate is None:
            gate = self._gates[a, b] = self.fresh()
            self._pending += (f"-{gate} {a} 0", f"-{gate} {b} 0", f"{gate} {-a} {-b} 0")
        return gate

    def either(self, a: int, b: int) -> int:
        return -self.both(-a, -b)

    def take(self) -> str:
        """Everything that was demanded since the last call, as DIMACS text."""
        head = f"p cnf {self.variables} {len(self._pending)}\n"
        text = head + "\n".join(self._pending) + "\n"
        self._pending = []
        return text


class Moment:
    """Literals of graph nodes at one moment. inputs: the literal of each input node."""

    def __init__(self, graph: Graph, clauses: Clauses, inputs: Mapping[int, int]) -> None:
        self._graph = graph
        self.clauses = clauses
        self._literals: dict[int, int] = {0: -Clauses.TRUE, **inputs}

    def literal(self, literal: int) -> int:
        node = literal >> 1
        if node not in self._literals:
            self._define(node)
        known = self._literals[node]
        return -known if literal & 1 else known

    def _define(self, root: int) -> None:
        literals, fanins, both = self._literals, self._graph.fanins, self.clauses.both
        missing: set[int] = set()
        stack = [root]
        while stack:
            node = stack.pop()
            if node in literals or node in missing:
                continue
            missing.add(node)
            a, b = fanins[node]
            if a < 0:
                raise EvidenceError(f"input {self._graph.names[node]!r} has no meaning here")
            stack += (a >> 1, b >> 1)
        for node in sorted(missing):
            a, b = fanins[node]
            left, right = literals[a >> 1], literals[b >> 1]
            literals[node] = both(-left if a & 1 else left, -right if b & 1 else right)


class ClauseJudge:
    """A z3 solver that has seen nothing before, told clauses and asked under assumptions.

    only_answers: as in `script.FreshSolver`.
    """

    def __init__(self, clauses: Clauses, *, only_answers: bool = False) -> None:
        self._clauses = clauses
        self._context = context = z3.main_ctx() if only_answers else z3.Context()
        logic = z3.to_symbol("QF_FD", context)
        self._solver = z3.Solver(z3.Z3_mk_solver_for_logic(context.ref(), logic), context)
        self._solver.from_string(clauses.take())
        self._assumed: dict[Any, int] = {}

    def more(self) -> None:
        """Tell the solver what was demanded since."""
        self._solver.from_string(self._clauses.take())

    def ask(self, literals: Sequence[int], conflicts: int) -> Answer:
        """Can the literals be true together? UNKNOWN after so many conflicts."""
        self._solver.set("max_conflicts", conflicts)
        terms = [self._term(literal) for literal in literals]
        self._assumed = {term.get_id(): one for term, one in zip(terms, literals, strict=True)}
        return answer_of(self._solver.check(*terms))

    def used(self) -> set[int]:
        """Literals of the last question, which were no, that the answer depends on."""
        return {self._assumed[term.get_id()] for term in self._solver.unsat_core()}

    def why_unknown(self) -> str:
        return str(self._solver.reason_unknown())

    def _term(self, literal: int) -> Any:
        # z3 names variable v of a DIMACS text by the number v, which is not the text "k!v".
        constant = z3.Bool(abs(literal), self._context)
        return constant if literal > 0 else z3.Not(constant)
