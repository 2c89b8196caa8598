"""Builders of conditions, properties and assumptions."""

from __future__ import annotations

from verifier.syntax.lexeme import Children, Clause, Context, clause, of, texts, whole
from verifier.syntax.tree import (
    AcceptStatement,
    Action,
    And,
    AssumeStatement,
    Binders,
    ByHand,
    Expression,
    If,
    Is,
    Negated,
    Or,
    OrderStatement,
    PropertyStatement,
    Quantified,
    Quantifier,
    RecoversStatement,
    Reference,
    Rest,
    TolerateClause,
    Word,
    Worked,
)

_CONDITION = (If, Quantified, And, Or, Negated, Word, Is, ByHand, Worked, Rest)


def conditions(children: Children) -> tuple[Expression, ...]:
    return tuple(of(children, *_CONDITION))


def implies(context: Context, children: Children) -> If:
    when, then = conditions(children)
    return If(when, then, whole(children))


def every(context: Context, children: Children) -> Quantified:
    return Quantified(True, children[1], children[3], whole(children))


def some(context: Context, children: Children) -> Quantified:
    return Quantified(False, children[1], children[3], whole(children))


def disjunction(context: Context, children: Children) -> Or:
    return Or(conditions(children), whole(children))


def conjunction(context: Context, children: Children) -> And:
    return And(conditions(children), whole(children))


def negated(context: Context, children: Children) -> Negated:
    return Negated(children[1], whole(children))


def word(context: Context, children: Children) -> Word:
    return Word(children[0].text, tuple(of(children, Reference)), whole(children))


def is_at(context: Context, children: Children) -> Is:
    return Is(children[0], children[2].text, whole(children))


def by_hand(context: Context, children: Children) -> ByHand:
    return ByHand(children[0].text, whole(children))


def worked(context: Context, children: Children) -> Worked:
    return Worked(whole(children))


def rest(context: Context, children: Children) -> Rest:
    return Rest(whole(children))


def moment_at_rest(context: Context, children: Children) -> Clause:
    return Clause("moment", "at_rest", whole(children))


def moment_every(context: Context, children: Children) -> Clause:
    return Clause("moment", "every_moment", whole(children))


def form(context: Context, children: Children) -> Clause:
    return Clause("form", children[0].text, whole(children))


def among(context: Context, children: Children) -> Clause:
    return Clause("among", children[0].text, whole(children))


def quantifier(context: Context, children: Children) -> Quantifier:
    return Quantifier(clause(children, "among"), of(children, Binders)[0], whole(children))


def _quantifier(children: Children) -> Quantifier | None:
    found = of(children, Quantifier)
    return found[0] if found else None


def _tolerating(children: Children) -> TolerateClause | None:
    found = of(children, TolerateClause)
    return found[0] if found else None


def do(context: Context, children: Children) -> Action:
    return Action(False, children[0], whole(children))


def undo(context: Context, children: Children) -> Action:
    return Action(True, children[1], whole(children))


def _name_and_doc(context: Context, children: Children) -> tuple[str, str | None]:
    name, *doc = texts(context, children)
    return name, doc[0] if doc else None


def property_statement(context: Context, children: Children) -> PropertyStatement:
    name, doc = _name_and_doc(context, children)
    return PropertyStatement(
        clause(children, "form"),
        clause(children, "moment"),
        name,
        conditions(children)[0],
        _quantifier(children),
        _tolerating(children),
        doc,
        whole(children),
    )


def order(context: Context, children: Children) -> OrderStatement:
    name, doc = _name_and_doc(context, children)
    condition, first = conditions(children)
    return OrderStatement(
        clause(children, "moment"),
        name,
        condition,
        first,
        _quantifier(children),
        _tolerating(children),
        doc,
        whole(children),
    )


def recovers(context: Context, children: Children) -> RecoversStatement:
    name, doc = _name_and_doc(context, children)
    return RecoversStatement(
        name,
        tuple(of(children, Action)),
        conditions(children)[0],
        _quantifier(children),
        _tolerating(children),
        doc,
        whole(children),
    )


def accept(context: Context, children: Children) -> AcceptStatement:
    (reason,) = texts(context, children)
    subjects = clause(children, "references")
    return AcceptStatement(subjects, clause(children, "while", None), reason, whole(children))


def while_(context: Context, children: Children) -> Clause:
    return Clause("while", conditions(children)[0], whole(children))


def assume(context: Context, children: Children) -> AssumeStatement:
    name, reason = texts(context, children)
    return AssumeStatement(
        name,
        reason,
        clause(children, "form"),
        conditions(children)[0],
        _quantifier(children),
        whole(children),
    )
