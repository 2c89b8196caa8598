"""Graphs as SMT-LIB text: what a fresh solver is asked, anybody can read and ask another one.

This is a translation of its own, shared with no engine.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.evidence.error import EvidenceError, Unchecked
from verifier.solving.answer import Answer
from verifier.solving.pulse import beat
from verifier.solving.z3_door import answer_of, z3
from verifier.transition.graph import Graph
from verifier.transition.system import Lemma, System

# One step of a system is no hard question; a solver that needs more than this is stuck.
MOST_CONFLICTS = 2_000_000


def negated(term: str) -> str:
    return f"(not {term})"


def conjunction(terms: Iterable[str]) -> str:
    return f"(and true {' '.join(terms)})"


def disjunction(terms: Iterable[str]) -> str:
    return f"(or false {' '.join(terms)})"


class Terms:
    """SMT-LIB terms for the literals of a graph at one moment.

    `inputs` has the term of each input node; definitions that the terms need are appended to
    `lines`, with names that begin with `prefix`.
    """

    def __init__(self, graph: Graph, lines: list[str], prefix: str, inputs: dict[int, str]) -> None:
        self._graph = graph
        self._lines = lines
        self._prefix = prefix
        self._terms = {0: "false", **inputs}

    def term(self, literal: int) -> str:
        for node in self._undefined(literal >> 1):
            self._define(node)
        return self._signed(literal)

    def lemma(self, system: System, lemma: Lemma) -> str:
        """The clause at this moment. Raises EvidenceError for latches that do not exist."""
        literals = []
        for index, positive in lemma:
            if not 0 <= index < len(system.latches):
                raise EvidenceError(f"a clause speaks of latch {index}, which does not exist")
            literals.append(self.term(2 * system.latches[index].node ^ (not positive)))
        return disjunction(literals)

    def _undefined(self, root: int) -> list[int]:
        """Nodes that the root needs and that have no term yet, ascending: fanins come first."""
        found: set[int] = set()
        stack = [root]
        while stack:
            node = stack.pop()
            if node not in self._terms and node not in found:
                found.add(node)
                stack += (fanin >> 1 for fanin in self._graph.fanins[node] if fanin >= 0)
        return sorted(found)

    def _define(self, node: int) -> None:
        a, b = self._graph.fanins[node]
        if a < 0:
            raise EvidenceError(f"input {self._graph.names[node]!r} has no meaning here")
        name = f"{self._prefix}{node}"
        body = f"(and {self._signed(a)} {self._signed(b)})"
        self._lines.append(f"(define-fun {name} () Bool {body})")
        self._terms[node] = name

    def _signed(self, literal: int) -> str:
        term = self._terms[literal >> 1]
        return negated(term) if literal & 1 else term


class Moments:
    """The terms of a system at its start, now, and after a step from now."""

    def __init__(self, system: System) -> None:
        self.lines: list[str] = []
        graph, latches = system.graph, system.latches
        start = {latch.node: "true" if latch.start else "false" for latch in latches}
        now = {latch.node: f"s{i}" for i, latch in enumerate(latches)}
        choices = {choice.node: f"c{i}" for i, choice in enumerate(system.choices)}
        for name in (*now.values(), *choices.values()):
            self.lines.append(f"(declare-const {name} Bool)")
        self.start = Terms(graph, self.lines, "b", start)
        self.now = Terms(graph, self.lines, "n", {**now, **choices})
        then = {latch.node: self.now.term(latch.next) for latch in latches}
        self.then = Terms(graph, self.lines, "m", then)

    def demand(self, term: str) -> None:
        self.lines.append(f"(assert {term})")

    def switch(self, name: str) -> None:
        """A constant with which a hypothesis or a question is switched on."""
        self.lines.append(f"(declare-const {name} Bool)")


class FreshSolver:
    """A z3 solver that has seen nothing before, told a script once and asked under switches.

    only_answers: nothing but yes or no is wanted. Making a context takes longer than most
    questions, so then the solver shares z3's own, which holds terms of others, but none of their
    assertions. Cores and models could depend on what these were.
    """

    def __init__(self, lines: Sequence[str], *, only_answers: bool = False) -> None:
        self._context = context = z3.main_ctx() if only_answers else z3.Context()
        logic = z3.to_symbol("QF_FD", context)  # z3.SolverFor would make a context just for this
        self._solver = z3.Solver(z3.Z3_mk_solver_for_logic(context.ref(), logic), context)
        self._solver.set("max_conflicts", MOST_CONFLICTS)
        self._solver.from_string("\n".join(lines) + "\n")

    def satisfiable(self, switches: Sequence[str]) -> bool:
        """Raises Unchecked when z3 does not know."""
        answer = answer_of(self._solver.check(*(self._constant(name) for name in switches)))
        beat(1)
        if answer is Answer.UNKNOWN:
            raise Unchecked(f"z3 gave up: {self._solver.reason_unknown()}")
        return answer is Answer.SAT

    def used(self) -> list[str]:
        """Switches that the last answer, which was no, depends on; sorted."""
        return sorted(term.decl().name() for term in self._solver.unsat_core())

    def truths(self, names: Sequence[str]) -> tuple[bool, ...]:
        """Values in the model of the last answer, which was yes; false where the model has none."""
        model = self._solver.model()
        return tuple(z3.is_true(model[self._constant(name)]) for name in names)

    def _constant(self, name: str) -> object:
        return z3.Bool(name, self._context)
