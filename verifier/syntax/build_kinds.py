"""Builders of kinds: ports, hands, passages, elements, words and faults."""

from __future__ import annotations

from typing import Literal

from verifier.syntax.build_conditions import conditions
from verifier.syntax.build_statements import items
from verifier.syntax.lexeme import Children, Clause, Context, Lexeme, clause, names, of, text, whole
from verifier.syntax.tree import (
    Effect,
    ElementItem,
    Exhausts,
    Family,
    FaultItem,
    HandItem,
    Kind,
    KindRole,
    Leg,
    Means,
    MoveItem,
    Otherwise,
    PassageItem,
    Passes,
    Ports,
    Surroundings,
)

EffectWord = Literal[
    "sticks", "shifts", "no_spring", "leaks", "passes", "vents", "bursts", "blocks", "held", "dead"
]


def kind(context: Context, children: Children) -> Kind:
    return Kind(names(children)[0], text(context, children), items(children), whole(children))


def ports(context: Context, children: Children) -> Ports:
    return Ports(tuple(names(children)), clause(children, "medium"), whole(children))


def exhausts(context: Context, children: Children) -> Exhausts:
    return Exhausts(tuple(names(children)), whole(children))


def held(context: Context, children: Children) -> Clause:
    return Clause("held", True, whole(children))


def starts_on(context: Context, children: Children) -> Clause:
    return Clause("starts_on", True, whole(children))


def hand(context: Context, children: Children) -> HandItem:
    return HandItem(
        names(children)[0],
        clause(children, "held", False),
        clause(children, "starts_on", False),
        text(context, children),
        whole(children),
    )


def kind_surroundings(context: Context, children: Children) -> Surroundings:
    name: Lexeme = children[1]
    family = Family(name.text, (), name.span)
    return Surroundings(family, clause(children, "names"), text(context, children), whole(children))


def restricted(context: Context, children: Children) -> Clause:
    return Clause("restricted", True, whole(children))


def both_ways(context: Context, children: Children) -> Clause:
    return Clause("one_way", False, whole(children))


def one_way(context: Context, children: Children) -> Clause:
    return Clause("one_way", True, whole(children))


def leg(context: Context, children: Children) -> Leg:
    start, end = names(children)
    return Leg(
        start,
        end,
        clause(children, "one_way"),
        clause(children, "restricted", False),
        clause(children, "medium"),
        whole(children),
    )


def legs(context: Context, children: Children) -> Clause:
    return Clause("legs", tuple(of(children, Leg)), whole(children))


def when(context: Context, children: Children) -> Clause:
    return Clause("when", conditions(children)[0], whole(children))


def passage(context: Context, children: Children) -> PassageItem:
    return PassageItem(clause(children, "legs"), clause(children, "when"), whole(children))


def passes(context: Context, children: Children) -> Passes:
    return Passes(names(children)[0], clause(children, "legs"), whole(children))


def move(context: Context, children: Children) -> MoveItem:
    return MoveItem(names(children)[0], conditions(children)[0], whole(children))


def stays(context: Context, children: Children) -> Otherwise:
    return Otherwise(None, whole(children))


def returns(context: Context, children: Children) -> Otherwise:
    return Otherwise(names(children)[0], whole(children))


def element(context: Context, children: Children) -> ElementItem:
    return ElementItem(
        names(children)[0],
        clause(children, "names"),
        clause(children, "starts"),
        items(children),
        whole(children),
    )


def means(context: Context, children: Children) -> Means:
    return Means(names(children)[0], conditions(children)[0], whole(children))


def kind_role(context: Context, children: Children) -> KindRole:
    return KindRole(names(children)[0], whole(children))


def comes_and_goes(context: Context, children: Children) -> Clause:
    return Clause("passing", True, whole(children))


def source(context: Context, children: Children) -> Clause:
    return Clause("source", text(context, children), whole(children))


def fault(context: Context, children: Children) -> FaultItem:
    return FaultItem(
        names(children)[0],
        text(context, children),
        tuple(of(children, Effect)),
        clause(children, "passing", False),
        clause(children, "source"),
        whole(children),
    )


def effect_on_element(word: EffectWord, children: Children) -> Effect:
    """Effects that name an element or a hand, and perhaps a position."""
    subject, *target = names(children)
    return Effect(word, subject, target[0] if target else None, (), False, whole(children))


def effect_on_ports(word: EffectWord, children: Children) -> Effect:
    """Effects that name one port, or two with a direction between."""
    one_way_ = clause(children, "one_way", False)
    return Effect(word, None, None, tuple(names(children)), one_way_, whole(children))
