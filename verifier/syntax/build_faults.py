"""Builders of what is said about faults: chosen ones, exclusions, common causes, rates."""

from __future__ import annotations

from typing import Literal

from msgspec.structs import replace

from verifier.syntax.build_numbers import whole_number
from verifier.syntax.build_statements import quoted
from verifier.syntax.lexeme import Children, Clause, Context, Lexeme, clause, names, of, text, whole
from verifier.syntax.tree import (
    CommonCause,
    ExcludeStatement,
    Family,
    FaultsAmong,
    FaultsOf,
    Measure,
    PerTime,
    RateStatement,
    Reference,
    TolerateClause,
    WornOut,
)

What = Literal["part", "tube", "supply", "cause"]
Group = Literal["kind", "tubes", "supplies"]


def of_one(what: What, children: Children) -> FaultsOf:
    label = names(children)
    return FaultsOf(
        what,
        of(children, Reference)[0],
        clause(children, "end"),
        label[0] if label else None,
        clause(children, "torn at"),
        whole(children),
    )


def at_end(context: Context, children: Children) -> Clause:
    return Clause("end", children[1], whole(children))


def torn_at(context: Context, children: Children) -> Clause:
    return Clause("torn at", children[1], whole(children))


def all_of(context: Context, children: Children) -> FaultsOf:
    found: FaultsOf = children[2]
    return replace(found, span=whole(children))


def group(which: Group, children: Children) -> FaultsAmong:
    kind = names(children)
    return FaultsAmong(None, which, kind[0] if kind else None, whole(children))


def among_group(context: Context, children: Children) -> Clause:
    return Clause("among", children[1], whole(children))


def every_fault(context: Context, children: Children) -> FaultsAmong:
    (label,) = names(children)
    among: FaultsAmong | None = clause(children, "among")
    if among is None:
        return FaultsAmong(label, None, None, whole(children))
    return replace(among, label=label, span=whole(children))


def selections(context: Context, children: Children) -> Clause:
    return Clause("selections", tuple(of(children, FaultsOf, FaultsAmong)), whole(children))


def fault_word(context: Context, children: Children) -> Clause:
    return Clause("fault word", children[0].text, whole(children))


def at_most_faults(context: Context, children: Children) -> TolerateClause:
    number = next(c for c in children if isinstance(c, Lexeme) and c.sort == "INT")
    chosen = clause(children, "selections", ())
    return TolerateClause(whole_number(context, number), chosen, whole(children))


def these_faults(context: Context, children: Children) -> TolerateClause:
    return TolerateClause(None, clause(children, "selections"), whole(children))


def exclude(context: Context, children: Children) -> ExcludeStatement:
    chosen, source = clause(children, "selections"), clause(children, "source")
    return ExcludeStatement(chosen, quoted(context, children), source, whole(children))


def common_cause(context: Context, children: Children) -> CommonCause:
    return CommonCause(
        of(children, Family)[0],
        text(context, children),
        clause(children, "selections"),
        clause(children, "source"),
        whole(children),
    )


def per_time(context: Context, children: Children) -> PerTime:
    value, written = children[0].value
    return PerTime(value, written, children[2].text, whole(children))


def worn_out(context: Context, children: Children) -> WornOut:
    (cycles, written), (yearly, said) = (child.value for child in (children[1], children[4]))
    return WornOut(
        Measure(cycles, written, children[2].text, whole(children[1:3])),
        PerTime(yearly, said, children[7].text, whole(children[4:])),
        children[5].text,
        whole(children),
    )


def rate(context: Context, children: Children) -> RateStatement:
    figure: PerTime | Measure | WornOut = next(
        c for c in children if isinstance(c, PerTime | Measure | WornOut)
    )
    chosen, source = clause(children, "selections"), clause(children, "source")
    return RateStatement(chosen, figure, source, whole(children))
