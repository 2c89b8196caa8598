"""Formulas of the second translation: variables, conjunctions and negation, each kept once.

A formula is a non-zero int; its negation is the negative number. `TRUE` is 1, `FALSE` is -1.
Every formula carries its truth in `WIDTH` sample cases, bit k for case k.
"""

from __future__ import annotations

from collections.abc import Iterable

from verifier.second.samples import FULL, sample

Formula = int
Variable = tuple[str, int, int]
"""What a variable says (`verifier.second.variables`), and the numbers of the things it is about."""

TRUE: Formula = 1
FALSE: Formula = -1


class Formulas:
    """parts: the parts of conjunction n, sorted; none for the constant and for variables.

    Invariant: parts of a formula have smaller numbers than the formula.
    words: truth of formula n in the sample cases.   variables: number of each variable.
    """

    def __init__(self) -> None:
        self.parts: list[tuple[Formula, ...]] = [(), ()]
        self.words: list[int] = [0, FULL]
        self.variables: dict[Variable, Formula] = {}
        self._saying: dict[Formula, Variable] = {}
        self._known: dict[tuple[Formula, ...], Formula] = {}

    def variable(self, variable: Variable, like: str) -> Formula:
        """The variable, made when first asked for. Variables that are alike tend to be true in the
        same sample cases."""
        found = self.variables.get(variable)
        if found is None:
            found = self.variables[variable] = len(self.parts)
            self._saying[found] = variable
            self.parts.append(())
            self.words.append(sample(repr(variable), like))
        return found

    def said_by(self, formula: Formula) -> Variable:
        """The variable that the formula is."""
        return self._saying[formula]

    def all_of(self, formulas: Iterable[Formula]) -> Formula:
        """True if all are."""
        kept: set[Formula] = set()
        for formula in formulas:
            if formula == TRUE:
                continue
            if formula == FALSE or -formula in kept:
                return FALSE
            kept.add(formula)
        if len(kept) < 2:
            return kept.pop() if kept else TRUE
        parts = tuple(sorted(kept))
        found = self._known.get(parts)
        if found is None:
            found = self._known[parts] = len(self.parts)
            self.parts.append(parts)
            words = self.words
            word = FULL
            for part in parts:
                word &= words[part] if part > 0 else ~words[-part]
            words.append(word)
        return found

    def any_of(self, formulas: Iterable[Formula]) -> Formula:
        """True if one of them is."""
        return -self.all_of([-formula for formula in formulas])

    def both(self, a: Formula, b: Formula) -> Formula:
        return self.all_of((a, b))

    def either(self, a: Formula, b: Formula) -> Formula:
        return -self.all_of((-a, -b))

    def word(self, formula: Formula) -> int:
        """Its truth in the sample cases."""
        return self.words[formula] if formula > 0 else FULL & ~self.words[-formula]
