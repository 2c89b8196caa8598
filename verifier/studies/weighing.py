"""Does a changed statement promise less than it did, or more? Asked of a fresh z3.

A property that excludes less is weaker; so is a *possible* that asks for less. An assumption that
excludes more takes more for granted, which is a loss as well. What pressures, positions, hands and
paths can be together is not asked, only that an element stands in one position and a switch at one
value: that the circuit behaves well is no reason to promise less.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.changes.statements import Statement
from verifier.evidence.script import FreshSolver, conjunction, disjunction, negated
from verifier.model.circuit import Circuit
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    Condition,
    Not,
    Setting,
)
from verifier.model.simplify import Atom
from verifier.report.comparison import Weight


class Weighed(Struct, frozen=True):
    """loss: less is promised, or more taken for granted, or that could not be excluded."""

    statement: Statement
    weight: Weight
    loss: bool


def weigh(new: Circuit, statements: Sequence[Statement]) -> list[Weighed]:
    """Raises Unchecked when the solver gives up. new: the design in whose terms they are."""
    return [_weighed(new, one) for one in statements]


def _weighed(circuit: Circuit, one: Statement) -> Weighed:
    if one.status in ("same", "added", "dropped"):
        lost = {"property": "dropped", "assumption": "added"}[one.what]
        return Weighed(one, one.status, one.status == lost)
    if one.weighings is None:
        return Weighed(one, "other", True)
    less = _follows(circuit, [(w.new, w.old) for w in one.weighings])
    more = _follows(circuit, [(w.old, w.new) for w in one.weighings])
    if one.asks_for:  # a state that is asked for is no state that is excluded
        less, more = more, less
    less = less and one.tolerance in ("same", "fewer")
    more = more and one.tolerance in ("same", "more")
    if less and more:
        return Weighed(one, "reworded", False)
    weight: Weight = "weaker" if less else "stronger" if more else "other"
    if one.what == "assumption":
        return Weighed(one, weight, weight != "weaker")
    return Weighed(one, weight, weight != "stronger")


def _follows(circuit: Circuit, pairs: Sequence[tuple[Condition, Condition]]) -> bool:
    """Whether in each pair the second is true whenever the first is."""
    script = _Script(circuit)
    apart = disjunction(script.term(All((first, Not(second)))) for first, second in pairs)
    script.lines.append(f"(assert {apart})")
    return not FreshSolver(script.lines).satisfiable([])


class _Script:
    """Conditions as SMT-LIB terms over their atoms."""

    def __init__(self, circuit: Circuit) -> None:
        self.lines: list[str] = []
        self._circuit = circuit
        self._names: dict[Atom, str] = {}
        self._places: dict[tuple[str, int], list[str]] = {}

    def term(self, condition: Condition) -> str:
        match condition:
            case Always(value=value):
                return "true" if value else "false"
            case Not(of=inner):
                return negated(self.term(inner))
            case All(of=parts):
                return conjunction(map(self.term, parts))
            case Any(of=parts):
                return disjunction(map(self.term, parts))
            case At(element=element, positions=positions):
                count = len(self._circuit.elements[element].positions)
                return self._among("e", element, count, positions)
            case Setting(switch=switch, values=values):
                count = len(self._circuit.switches[switch].values)
                return self._among("w", switch, count, values)
        return self._name(condition)

    def _name(self, atom: Atom) -> str:
        if atom not in self._names:
            self._names[atom] = self._new(f"a{len(self._names)}")
        return self._names[atom]

    def _among(self, kind: str, thing: int, count: int, chosen: Sequence[int]) -> str:
        """The thing is at one of the chosen of so many places, at exactly one of which it is."""
        if (kind, thing) not in self._places:
            names = [self._new(f"{kind}{thing}_{k}") for k in range(count)]
            self._places[kind, thing] = names
            self.lines.append(f"(assert {disjunction(names)})")
            self.lines += (
                f"(assert {negated(conjunction([a, b]))})"
                for k, a in enumerate(names)
                for b in names[:k]
            )
        return disjunction(self._places[kind, thing][k] for k in chosen)

    def _new(self, name: str) -> str:
        self.lines.append(f"(declare-const {name} Bool)")
        return name
