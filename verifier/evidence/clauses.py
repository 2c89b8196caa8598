"""Graphs as clauses in DIMACS text, and a fresh solver that is told them.

A translation of its own, shared with no engine, for questions about very many goals; `script` has
one in SMT-LIB for the others. z3 reads clauses some ten times as fast as terms.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from verifier.evidence.error import Unchecked
from verifier.evidence.script import MOST_CONFLICTS
from verifier.solving.answer import Answer
from verifier.solving.z3_door import answer_of, z3
from verifier.transition.graph import Graph

TRUE = 1
"""The literal that is always true."""


class Clauses:
    """Variables count from 1; a literal is a variable or its negative."""

    def __init__(self) -> None:
        self.variables = TRUE
        self._pending = [f"{TRUE} 0"]
        self._gates: dict[tuple[int, int], int] = {}

    def fresh(self) -> int:
        self.variables += 1
        return self.variables

    def demand(self, literals: Iterable[int]) -> None:
        """One of them is true."""
        told = " ".join(map(str, literals)) or str(-TRUE)
        self._pending.append(f"{told} 0")

    def both(self, a: int, b: int) -> int:
        """A literal that is true exactly when both are."""
        if a > b:
            a, b = b, a
        if -TRUE in (a, b) or a == -b:
            return -TRUE
        if a in (TRUE, b):
            return b
        if b == TRUE:
            return a
        gate = self._gates.get((a, b))
        if gate is None:
            gate = self._gates[a, b] = self.fresh()
            self._pending += (f"-{gate} {a} 0", f"-{gate} {b} 0", f"{gate} {-a} {-b} 0")
        return gate

    def either(self, a: int, b: int) -> int:
        return -self.both(-a, -b)

    def some(self, literals: Iterable[int]) -> int:
        """A literal that can be true only if one of them is."""
        switch = self.fresh()
        self.demand((-switch, *literals))
        return switch

    def take(self) -> str:
        """Everything that was demanded since the last call, as DIMACS text."""
        head = f"p cnf {self.variables} {len(self._pending)}\n"
        text = head + "\n".join(self._pending) + "\n"
        self._pending = []
        return text


class Moment:
    """Literals of graph nodes at one moment, defined as far as they are asked for.

    value_of: the literal of an input node.   cut: literals of nodes that are not looked into.
    """

    def __init__(
        self,
        graph: Graph,
        clauses: Clauses,
        value_of: Callable[[int], int],
        cut: Mapping[int, int] | None = None,
    ) -> None:
        self.clauses = clauses
        self._graph = graph
        self._value_of = value_of
        self._literals: dict[int, int] = {**(cut or {}), 0: -TRUE}

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
            if node not in literals and node not in missing:
                missing.add(node)
                stack += (fanin >> 1 for fanin in fanins[node] if fanin >= 0)
        for node in sorted(missing):  # fanins come first
            a, b = fanins[node]
            if a < 0:
                literals[node] = self._value_of(node)
            else:
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
        self.tell()
        self._assumed: dict[int, int] = {}

    def tell(self) -> None:
        """What was demanded since the last time."""
        self._solver.from_string(self._clauses.take())

    def ask(self, literals: Sequence[int], conflicts: int) -> Answer:
        """Can the literals be true together? UNKNOWN after so many conflicts."""
        self._solver.set("max_conflicts", conflicts)
        terms = [self._term(literal) for literal in literals]
        self._assumed = {term.get_id(): one for term, one in zip(terms, literals, strict=True)}
        return answer_of(self._solver.check(*terms))

    def possible(self, literals: Sequence[int]) -> bool:
        """Raises Unchecked when z3 does not know."""
        answer = self.ask(literals, MOST_CONFLICTS)
        if answer is Answer.UNKNOWN:
            raise Unchecked(f"z3 gave up: {self._solver.reason_unknown()}")
        return answer is Answer.SAT

    def used(self) -> set[int]:
        """Literals of the last question, which were no, that the answer depends on."""
        return {self._assumed[term.get_id()] for term in self._solver.unsat_core()}

    def _term(self, literal: int) -> Any:
        # z3 names variable v of a DIMACS text by the number v, which is not the text "k!v".
        constant = z3.Bool(abs(literal), self._context)
        return constant if literal > 0 else z3.Not(constant)
