"""Proof that both translations of a circuit say the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from verifier.evidence.error import EvidenceError
from verifier.evidence.said_twice import (
    Twice,
    events,
    inputs_of,
    movement,
    operation,
    pressures,
    properties,
    start,
)
from verifier.evidence.sweep import FALSE, TRUE, Sweep
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.second.formulas import FALSE as IMPOSSIBLE
from verifier.second.formulas import Formula
from verifier.second.samples import WIDTH
from verifier.second.translation import Translation, translate
from verifier.solving.answer import Answer
from verifier.transition.compiled import Compiled
from verifier.transition.decode import state_of
from verifier.transition.graph import Graph

# Conflicts for one comparison: what differs is found long before, so more would not help.
MOST_CONFLICTS = 20_000


class Uncompared(Struct, frozen=True):
    """The solver gave up on it. property: the only one that it matters for, or None."""

    what: str
    property: int | None = None


class Agreement(Struct, frozen=True):
    """compared: how many things both translations were shown to say alike.
    questions: how many of the solver's answers that took.   open: what could not be compared."""

    compared: int
    questions: int
    open: tuple[Uncompared, ...] = ()


def agree(compiled: Compiled, conflicts: int = MOST_CONFLICTS) -> Agreement:
    """Compare both translations of a circuit.

    Raises EvidenceError, which shows a state, when they differ.
    """
    possible: set[str] = set()
    while True:
        comparison = Comparison(compiled, translate(compiled.circuit, possible), conflicts)
        wrong = comparison.presumptions()
        if not wrong:
            break
        possible.update(wrong)
    comparison.compare()
    return comparison.agreement()


class Comparison:
    """Both translations in one place, over the same variables."""

    def __init__(self, compiled: Compiled, second: Translation, conflicts: int) -> None:
        self.compiled = compiled
        self.second = second
        self.conflicts = conflicts
        self.compared = 0
        self.open: list[Uncompared] = []
        self.sweep = Sweep(WIDTH)
        self._of_graph: dict[int, int] = {0: FALSE}
        self._of_formula: dict[Formula, int] = {1: TRUE}
        self._nodes = inputs_of(compiled)
        self._take_inputs()

    def _take_inputs(self) -> None:
        for variable, formula in self.second.formulas.variables.items():
            if formula not in self._of_formula:
                literal = self.sweep.input(self.second.formulas.words[formula])
                self._of_formula[formula] = literal
                if variable in self._nodes:
                    self._of_graph[self._nodes[variable]] = literal

    def presumptions(self) -> list[str]:
        """What the second translation took to be impossible, and is not known to be."""
        wrong = []
        for what, formula in self.second.air.impossible:
            literal = self._formula(formula, search=True)
            if self.sweep.differ(literal, FALSE, self.conflicts) is not Answer.UNSAT:
                wrong.append(what)
            self._of_formula[abs(formula)] = FALSE if formula > 0 else TRUE
        return wrong

    def compare(self) -> None:
        strange = start(self.compiled)
        if strange:
            raise EvidenceError(f"at the start the translations differ about: {strange[0]}")
        compiled, second = self.compiled, self.second
        self._alike(pressures(compiled, second), search=True)
        for path in second.paths:
            self._formula(path, search=True)
        for section in (movement, operation, events, properties):
            self._alike(section(compiled, second), search=False)

    def agreement(self) -> Agreement:
        return Agreement(self.compared, self.sweep.questions, tuple(self.open))

    def _alike(self, told: Iterable[Twice], *, search: bool) -> None:
        for one in told:
            first = self._literal(one.literal)
            second = self._formula(one.formula, search=search)
            answer = self.sweep.differ(first, second, self.conflicts)
            if answer is Answer.SAT:
                raise EvidenceError(self._difference(one.what))
            if answer is Answer.UNKNOWN:
                self.open.append(Uncompared(one.what, one.property))
                continue
            self.compared += 1
            self._of_formula[abs(one.formula)] = first if one.formula > 0 else -first
