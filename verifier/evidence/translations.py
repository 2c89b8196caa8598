"""Proof that both translations of a circuit say the same.

What both build stands in one place, the lower definitions first: what was proved the same becomes
one thing, so that what is built on it has only its own part to be compared.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from verifier.evidence.carrying import Wide, carried
from verifier.evidence.differing import difference
from verifier.evidence.error import EvidenceError
from verifier.evidence.said_twice import (
    Twice,
    inputs_of,
    movement,
    operation,
    paths,
    pressures,
    properties,
    strange,
)
from verifier.evidence.said_twice_of_procedures import (
    altered,
    depending,
    made_again,
    phases,
    procedures,
)
from verifier.evidence.sweep import FALSE, TRUE, Sweep
from verifier.second.formulas import Formula, Variable
from verifier.second.procedures import procedure
from verifier.second.samples import WIDTH, sample
from verifier.second.translation import Translation, translate
from verifier.solving.answer import Answer
from verifier.transition.compiled import Compiled
from verifier.transition.graph import Graph
from verifier.transition.recovery import Recovery

# Conflicts for one comparison: what differs is found long before, so more would not help.
MOST_CONFLICTS = 20_000
# Conflicts for all comparisons of a design together.
MOST_WORK = 2_000_000


class Uncompared(Struct, frozen=True):
    """The solver gave up on it. property: the only one that it matters for, or None."""

    what: str
    property: int | None = None


def agree(compiled: Compiled) -> Comparison:
    """Compare both translations of a circuit; *recovers* can be compared afterwards.

    Raises EvidenceError, which shows a state, when they differ.
    """
    possible: set[str] = set()
    # That these are never trapped is among what is compared.
    untrapped = set(range(len(compiled.circuit.volumes))).difference(compiled.memory_latches)
    while True:
        comparison = Comparison(compiled, translate(compiled.circuit, possible, untrapped))
        wrong = comparison.untrue()
        if not wrong:
            break
        possible.update(wrong)
    comparison.compare()
    return comparison


class Comparison:
    """Both translations in one place, over the same variables.

    compared: how many things both were shown to say alike.   open: what could not be compared.
    """

    def __init__(self, compiled: Compiled, second: Translation) -> None:
        self.compiled = compiled
        self.second = second
        self.compared = 0
        self.open: list[Uncompared] = []
        self.sweep = Sweep(WIDTH)
        self._of_graph: dict[int, int] = {0: FALSE}
        self._of_formula: dict[Formula, int] = {1: TRUE}
        self._inputs: dict[Variable, int] = {}
        self._nodes = inputs_of(compiled)
        self._wide = Wide(self.sweep, compiled.system.graph, self._of_graph)
        self._fixed: dict[int, int] | None = None
        for variable, node in self._nodes.items():
            self._of_graph[node] = self._input(variable)

    def untrue(self) -> list[str]:
        """What the second translation took to be impossible, and is not known to be."""
        wrong = []
        for what, formula in self.second.air.impossible:
            literal = self._formula(formula, search=True)
            if self._differ(literal, FALSE) is not Answer.UNSAT:
                wrong.append(what)
            self._of_formula[abs(formula)] = FALSE if formula > 0 else TRUE
        return wrong

    def compare(self) -> None:
        """All but *recovers*. Raises EvidenceError, which shows a state, when they differ."""
        _refuse(strange(self.compiled, self.second))
        compiled, second = self.compiled, self.second
        self._all_alike(pressures(compiled, second), search=True)
        self._all_alike(paths(compiled, second), search=True)
        for section in (movement, operation, properties):
            self._all_alike(section(compiled, second), search=False)

    def recovery(self, posed: Recovery, property: int, instance: int) -> None:
        """The system of one instance of a *recovers*. Raises EvidenceError when they differ."""
        base = self.compiled.system
        told = procedure(
            self.second.properties, self.compiled.circuit.properties[property].instances[instance]
        )
        _refuse(altered(base, posed.system, len(told.under_way)))
        known = self._of_graph.copy()
        for variable, node in phases(base, posed.system).items():
            known[node] = self._input(variable)
        for one in procedures(self.compiled, posed, told, property):
            self._alike(one, posed.system.graph, known, search=True)
        known_apart = self._known_apart(told.operated)
        for what, made, original in made_again(base, posed.system):
            first = self._literal(posed.system.graph, known, made)
            second = self._literal(base.graph, known_apart, original)
            self._judge(f"{what}, in a procedure", property, first, second)

    def _known_apart(self, operated: Mapping[Variable, Formula]) -> dict[int, int]:
        """Of nodes of the graph, with the choices that a procedure makes in their place."""
        chosen = {self._nodes[v]: f for v, f in operated.items() if v in self._nodes}
        if self._fixed is None:
            depend = depending(self.compiled.system.graph, chosen)
            self._fixed = {n: found for n, found in self._of_graph.items() if n not in depend}
        return {**self._fixed, **{node: self._formula(f) for node, f in chosen.items()}}

    def _all_alike(self, told: Iterable[Twice], *, search: bool) -> None:
        for one in told:
            self._alike(one, self.compiled.system.graph, self._of_graph, search=search)

    def _alike(self, one: Twice, graph: Graph, known: dict[int, int], *, search: bool) -> None:
        literals = [self._literal(graph, known, literal) for literal in (one.literal, *one.more)]
        first = self.sweep.all(literals, search=False)
        second = self._formula(one.formula, search=search)
        if self._judge(one.what, one.property, first, second):
            self._of_formula[abs(one.formula)] = first if one.formula > 0 else -first

    def _judge(self, what: str, property: int | None, first: int, second: int) -> bool:
        """Whether both literals are shown to be the same. Raises EvidenceError if they are not."""
        answer = self._differ(first, second)
        if answer is Answer.SAT:
            case = self.sweep.case()
            true = {variable: node in case for variable, node in self._inputs.items()}
            raise EvidenceError(difference(self.compiled.circuit, what, true))
        if answer is Answer.UNKNOWN:
            self.open.append(Uncompared(what, property))
            return False
        self.compared += 1
        return True

    def _differ(self, first: int, second: int) -> Answer:
        left = MOST_WORK - self.sweep.work
        return self.sweep.differ(first, second, min(MOST_CONFLICTS, left))

    def _input(self, variable: Variable) -> int:
        if variable not in self._inputs:
            numbers = self.second.formulas.variables
            own = numbers.get(variable)
            word = sample(repr(variable), "") if own is None else self.second.formulas.words[own]
            self._inputs[variable] = self.sweep.input(word)
        return self._inputs[variable]

    def _literal(self, graph: Graph, known: dict[int, int], literal: int) -> int:
        """What a literal of a graph says. known: of nodes; it is added to."""
        if known is self._of_graph:
            return self._wide.literal(literal)
        return carried(self.sweep, graph, known, literal)

    def _formula(self, formula: Formula, *, search: bool = False) -> int:
        """What a formula of the second translation says. search: its parts may be known by others;
        what the whole should be, whoever asks knows."""
        known, parts = self._of_formula, self.second.formulas.parts
        whole = abs(formula)
        stack = [whole]
        while stack:
            number = stack[-1]
            if number in known:
                stack.pop()
                continue
            own = parts[number]
            if not own:
                known[number] = self._input(self.second.formulas.said_by(number))
                continue
            missing = [abs(part) for part in own if abs(part) not in known]
            if missing:
                stack += missing
                continue
            told = [known[part] if part > 0 else -known[-part] for part in own]
            known[number] = self.sweep.all(told, search and number != whole)
            stack.pop()
        return known[formula] if formula > 0 else -known[-formula]


def _refuse(differences: Iterable[str]) -> None:
    for words in differences:
        raise EvidenceError(f"the two translations of the circuit differ: {words}")
