"""`accept race of … while … because …`: races that the design accepts (Q11)."""

from __future__ import annotations

from verifier.model.circuit import Acceptance
from verifier.model.condition import Condition
from verifier.model.conditions import Conditions, Voice
from verifier.model.draft import Draft
from verifier.model.references import Finder, Found
from verifier.model.simplify import TRUE
from verifier.model.things import PartThing, Scope
from verifier.model.wording import Spoken
from verifier.syntax import tree
from verifier.syntax.document import flat
from verifier.syntax.layout_conditions import references

CODE = "E0714"


def acceptances(conditions: Conditions) -> tuple[Acceptance, ...]:
    """All that the design accepts, in the order of the source; mistakes are told."""
    return tuple(
        _acceptance(statement, scope, conditions)
        for scope, statement in conditions.draft.statements()
        if isinstance(statement, tree.AcceptStatement)
    )


def _acceptance(
    statement: tree.AcceptStatement, scope: Scope, conditions: Conditions
) -> Acceptance:
    draft = conditions.draft
    finder = Finder(draft, scope, scope.env, ranges=True)
    elements = [
        element
        for reference in statement.subjects
        for subject in finder.find(reference) or ()
        for element in _elements(subject, draft)
    ]
    words = f"race of {flat(references(statement.subjects))}"
    condition: Condition = TRUE
    if statement.during is not None:
        condition = conditions.sentence(scope, Voice("acceptance")).of(statement.during, scope.env)
        words += f" while {Spoken(scope.path).part(statement.during, scope.env)}"
    if scope.path:
        words = f"{scope.path}: {words}"
    told_once = tuple(dict.fromkeys(elements))
    return Acceptance(told_once, condition, words, statement.reason, statement.span)


def _elements(subject: Found, draft: Draft) -> list[int]:
    """The moving elements of a part, or the one that is named."""
    thing = subject.thing
    found = []
    if isinstance(thing, PartThing):
        found = [
            thing.first_element + number
            for number, element in enumerate(thing.kind.elements)
            if subject.label in (None, element.name)
        ]
    if not found:
        told = f"nothing in `{subject.name}` moves, so it is in no race"
        draft.mistakes.add(CODE, subject.span, told)
    return found
