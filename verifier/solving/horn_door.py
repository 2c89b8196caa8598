"""z3's engine for Horn clauses, asked about a transition system."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import Any

from verifier.solving.answer import Answer
from verifier.solving.z3_door import answer_of, z3
from verifier.transition.graph import Graph
from verifier.transition.system import Lemma, System

# Rules reach the engine as they are, so that its answer is about the relation they define.
SETTINGS = {
    "engine": "spacer",
    "spacer.random_seed": 0,
    "xform.inline_eager": False,
    "xform.inline_linear": False,
    "xform.slice": False,
}
# What z3 counts as resources, for each conflict of a budget: measured, within a factor of ten.
RESOURCES = 1_000
MOST_CLAUSES = 5_000

Clauses = set[frozenset[tuple[int, bool]]]


class ClauseLimit(Exception):
    """The invariant is not, or not with a bearable number of clauses, a conjunction of clauses."""


class HornQuery:
    """The relation "can be reached" over the latches given, as Horn clauses."""

    def __init__(
        self,
        system: System,
        latches: Sequence[int],
        step_allowed: Sequence[int],
        state_allowed: Sequence[int],
    ) -> None:
        self._context = context = z3.Context()
        self._system = system
        self._latches = tuple(latches)
        self._engine = z3.Fixedpoint(ctx=context)
        sorts = [z3.BoolSort(context)] * (len(latches) + 1)
        self._reached = z3.Function("reached", *sorts)
        self._engine.register_relation(self._reached)
        terms = _terms(system.graph, context, self._roots(step_allowed, state_allowed))
        self._terms = terms
        nodes = [2 * system.latches[i].node for i in self._latches]
        starts = [z3.BoolVal(system.latches[i].start, context) for i in self._latches]
        self._now = [_at(terms, literal) for literal in nodes]
        then = [_at(terms, system.latches[i].next) for i in self._latches]
        inputs = [terms[n] for n in sorted(terms) if n and not system.graph.is_and(n)]
        self._engine.declare_var(*inputs)
        self._engine.rule(self._reached(*starts))
        body = [_at(terms, literal) for literal in (*step_allowed, *state_allowed)]
        self._engine.rule(self._reached(*then), [self._reached(*self._now), *body])
        self._state_allowed = [_at(terms, literal) for literal in state_allowed]

    def ask(self, bad: int, conflicts: int) -> Answer:
        """SAT if `bad` can be reached, UNSAT if not."""
        terms = _terms(self._system.graph, self._context, [bad], self._terms)
        self._engine.set(rlimit=min(conflicts * RESOURCES, 2**32 - 1), **SETTINGS)
        question = z3.And(self._reached(*self._now), _at(terms, bad), *self._state_allowed)
        try:
            return answer_of(self._engine.query(question))
        except z3.Z3Exception:
            return Answer.UNKNOWN

    def invariant(self) -> tuple[Lemma, ...]:
        """After UNSAT: clauses that every reached state satisfies, as the engine claims."""
        found = self._engine.get_cover_delta(-1, self._reached)
        clauses = _clauses(found, True)
        lemmas = {
            tuple(sorted((self._latches[i], positive) for i, positive in clause))
            for clause in clauses
        }
        return tuple(sorted(lemmas))

    def _roots(self, step_allowed: Sequence[int], state_allowed: Sequence[int]) -> list[int]:
        latches = [self._system.latches[i] for i in self._latches]
        inputs = [2 * latch.node for latch in latches]
        return [*inputs, *(latch.next for latch in latches), *step_allowed, *state_allowed]


def _terms(
    graph: Graph, context: Any, roots: Sequence[int], known: dict[int, Any] | None = None
) -> dict[int, Any]:
    """z3 terms of the nodes that the roots depend on, by node."""
    terms = {0: z3.BoolVal(False, context)} if known is None else known
    for node in graph.cone(roots):
        if node in terms:
            continue
        a, b = graph.fanins[node]
        if a < 0:
            terms[node] = z3.Bool(f"i{node}", context)
        else:
            terms[node] = z3.And(_at(terms, a), _at(terms, b))
    return terms


def _at(terms: dict[int, Any], literal: int) -> Any:
    return z3.Not(terms[literal >> 1]) if literal & 1 else terms[literal >> 1]


def _clauses(term: Any, positive: bool) -> Clauses:
    """The term, or its negation, as clauses over the arguments of the relation."""
    if z3.is_var(term):
        return {frozenset({(z3.get_var_index(term), positive)})}
    if z3.is_true(term) or z3.is_false(term):
        return set() if z3.is_true(term) == positive else {frozenset()}
    if z3.is_not(term):
        return _clauses(term.arg(0), not positive)
    if z3.is_and(term) or z3.is_or(term):
        parts = [_clauses(one, positive) for one in term.children()]
        return _all(parts) if z3.is_and(term) == positive else _any(parts)
    if z3.is_implies(term):
        parts = [_clauses(term.arg(0), not positive), _clauses(term.arg(1), positive)]
        return _any(parts) if positive else _all(parts)
    if z3.is_eq(term):
        sides = [[_clauses(term.arg(k), sign) for sign in (False, True)] for k in (0, 1)]
        return _all(
            [_any([sides[0][0], sides[1][positive]]), _any([sides[0][1], sides[1][not positive]])]
        )
    raise ClauseLimit(f"{term.decl().name()} is no clause")


def _all(parts: Sequence[Clauses]) -> Clauses:
    return set().union(*parts)


def _any(parts: Sequence[Clauses]) -> Clauses:
    found: Clauses = {frozenset()}
    for part in parts:
        if len(found) * len(part) > MOST_CLAUSES:
            raise ClauseLimit(f"more than {MOST_CLAUSES} clauses")
        joined = (one | other for one, other in product(found, part))
        found = {c for c in joined if not any((i, not sign) in c for i, sign in c)}
    return found
