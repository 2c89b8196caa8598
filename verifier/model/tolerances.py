"""Faults that a design excludes, joins, rates, and asks its properties to tolerate (rules F)."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from verifier.diagnostics.span import Span
from verifier.model.choosing import Choosing
from verifier.model.circuit import Cause, Circuit, Exclusion, Property, RateOf, Tolerating
from verifier.model.draft import Draft
from verifier.model.numbers import Env
from verifier.model.rates import rate_of
from verifier.model.strikes import single_strikes
from verifier.model.things import Scope
from verifier.syntax import tree
from verifier.syntax.document import flat
from verifier.syntax.layout_faults import selections

STATEMENTS = (tree.ExcludeStatement, tree.CommonCause, tree.RateStatement)


def with_faults(circuit: Circuit, draft: Draft) -> Circuit:
    """The circuit with what the design says of faults; mistakes are told."""
    if not any(_says_something(statement) for _, statement in draft.statements()):
        return circuit
    said = _Said(circuit, draft)
    said.causes()
    said.exclusions()
    said.rates()
    said.tolerances()
    return said.circuit


def _says_something(statement: tree.Statement) -> bool:
    return isinstance(statement, STATEMENTS) or _clause(statement) is not None


def _clause(statement: tree.Statement) -> tree.TolerateClause | None:
    if isinstance(statement, tree.PropertyStatement | tree.OrderStatement | tree.RecoversStatement):
        return statement.tolerating
    return None


class _Rated(Struct, frozen=True):
    """A rate that one selection of a statement gives."""

    rate: RateOf
    span: Span


class _Said:
    """All statements about faults, taken in one sort after the other."""

    def __init__(self, circuit: Circuit, draft: Draft) -> None:
        self.circuit = circuit
        self.draft = draft
        self.choosing = Choosing(draft, circuit, single_strikes(circuit))
        self._excluded: dict[str, Span] = {}

    def causes(self) -> None:
        found = []
        for thing in self.draft.causes:
            told = thing.statement.members
            inner = [one for one in told if isinstance(one, tree.FaultsOf) and one.what == "cause"]
            if inner:
                words = "a common cause joins faults, not other causes"
                self._mistake("E0907", inner[0].span, words)
                continue
            before = self.draft.mistakes.count
            names = self.choosing.all_of(told, thing.scope, thing.env)
            if self.draft.mistakes.count > before:
                continue
            if len(names) < 2:
                words = f"`{thing.name}` is a cause of one fault only"
                self._mistake("E0907", thing.span, words)
                continue
            statement = thing.statement
            doc, source = statement.doc or "", statement.source or ""
            found.append(Cause(thing.name, tuple(names), source, thing.span, doc))
        self.circuit = replace(self.circuit, causes=tuple(found))

    def exclusions(self) -> None:
        found = []
        for scope, one in self.draft.statements():
            if not isinstance(one, tree.ExcludeStatement):
                continue
            names = []
            for selection in one.chosen:
                for name in self.choosing.of(selection, scope, scope.env):
                    first = self._excluded.setdefault(name, selection.span)
                    if first is not selection.span:
                        self._twice("E0903", selection.span, name, "excluded twice", first)
                    elif name not in names:
                        names.append(name)
            if names:
                words = spoken(one.chosen)
                found.append(Exclusion(tuple(names), words, one.reason, one.source, one.span))
        self.circuit = replace(self.circuit, exclusions=tuple(found))

    def rates(self) -> None:
        """What is said of a fault by name outdoes what is said of all faults of a thing, and that
        what is said of a sort of faults."""
        best: dict[str, tuple[int, list[_Rated]]] = {}
        for scope, one in self.draft.statements():
            if not isinstance(one, tree.RateStatement):
                continue
            rate = rate_of(one, self.draft.mistakes)
            if rate is None:
                continue
            rated = RateOf((), rate, one.span)
            for selection in one.chosen:
                rank = _rank(selection)
                for name in self.choosing.of(selection, scope, scope.env):
                    before = best.get(name, (-1, []))
                    if rank > before[0]:
                        best[name] = (rank, [_Rated(rated, selection.span)])
                    elif rank == before[0] and before[1][0].rate is not rated:
                        before[1].append(_Rated(rated, selection.span))
        told: dict[int, list[str]] = {}
        rates: dict[int, RateOf] = {}
        for name, (_, given) in best.items():
            for again in given[1:]:
                self._twice("E0905", again.span, name, "given two rates", given[0].span)
            rates[id(given[0].rate)] = given[0].rate
            told.setdefault(id(given[0].rate), []).append(name)
        found = (replace(one, faults=tuple(told[key])) for key, one in rates.items())
        self.circuit = replace(self.circuit, rates=tuple(found))

    def tolerances(self) -> None:
        properties = {one.name: one for one in self.circuit.properties}
        for scope, statement in self.draft.statements():
            clause = _clause(statement)
            if clause is None or not isinstance(
                statement, tree.PropertyStatement | tree.OrderStatement | tree.RecoversStatement
            ):
                continue
            name = f"{scope.path}: {statement.name}" if scope.path else statement.name
            if name in properties:
                properties[name] = self._tolerant(properties[name], clause, scope)
        self.circuit = replace(self.circuit, properties=tuple(properties.values()))

    def _tolerant(self, item: Property, clause: tree.TolerateClause, scope: Scope) -> Property:
        if clause.most == 0:
            words = "no fault at all: leave `tolerating` out"
            self._mistake("E0906", clause.span, words)
            return item
        if item.form == "possible":
            words = "one run shows that something is possible, and no fault has to strike in it"
            self._mistake("E0909", clause.span, words)
            return item
        before = self.draft.mistakes.count
        names, excluded = self._chosen(clause.chosen, scope, scope.env)
        if self.draft.mistakes.count > before:
            return item
        if clause.chosen and not names:
            words = "all faults that are named here are excluded"
            self._mistake("E0906", clause.span, words)
            return item
        number = clause.most
        count = "" if number is None else f"any {number} {'fault' if number == 1 else 'faults'}"
        told = spoken(clause.chosen)
        said = " of ".join(part for part in (count, told) if part)
        if not clause.chosen:
            return replace(item, tolerating=Tolerating(clause.most, None, said))
        tolerated = Tolerating(clause.most, names, said, excluded)
        return replace(item, tolerating=tolerated)

    def _chosen(
        self, chosen: Iterable[tree.Selection], scope: Scope, env: Env
    ) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Names of those that are not excluded, and of those that are; to name one of these by
        itself is a mistake."""
        names: dict[str, None] = {}
        left_out: dict[str, None] = {}
        for selection in chosen:
            for name in self.choosing.of(selection, scope, env):
                if name not in self._excluded:
                    names[name] = None
                    continue
                left_out[name] = None
                if _rank(selection) == BY_NAME:
                    self._mistake(
                        "E0902",
                        selection.span,
                        f"`{name}` is excluded, so nothing tolerates it",
                        ((self._excluded[name], "it is excluded here"),),
                    )
        return tuple(names), tuple(left_out)

    def _twice(self, code: str, span: Span, name: str, what: str, first: Span) -> None:
        self._mistake(code, span, f"`{name}` is {what}", ((first, "the first time is here"),))

    def _mistake(
        self, code: str, span: Span, words: str, related: tuple[tuple[Span, str], ...] = ()
    ) -> None:
        self.draft.mistakes.add(code, span, words, related=related)


BY_NAME = 2


def _rank(selection: tree.Selection) -> int:
    if isinstance(selection, tree.FaultsAmong):
        return 0
    return BY_NAME if selection.label is not None or selection.what == "cause" else 1


def spoken(chosen: Iterable[tree.Selection]) -> str:
    return flat(selections(tuple(chosen)))
