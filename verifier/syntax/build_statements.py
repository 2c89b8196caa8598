"""Builders of the statements of designs and assemblies."""

from __future__ import annotations

from typing import Any

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.syntax.build_conditions import conditions
from verifier.syntax.lexeme import (
    Children,
    Clause,
    Context,
    Lexeme,
    clause,
    clauses,
    names,
    of,
    text,
    unquote,
    whole,
)
from verifier.syntax.tree import (
    Argument,
    Assembly,
    AssemblyPort,
    Chain,
    Design,
    Family,
    Include,
    LeftOpen,
    LineStatement,
    Measure,
    PartStatement,
    Places,
    Plug,
    Reference,
    Revision,
    RunsOn,
    StartAt,
    SupplyStatement,
    Surroundings,
    TubeStatement,
    Use,
)


def quoted(context: Context, children: Children) -> str:
    """The quoted text that the grammar makes sure of."""
    lexeme = next(c for c in children if isinstance(c, Lexeme) and c.sort == "STRING")
    return unquote(context, lexeme)


def design(context: Context, children: Children) -> Design:
    return Design(names(children)[0], text(context, children), whole(children))


def revision(context: Context, children: Children) -> Revision:
    return Revision(quoted(context, children), whole(children))


def use(context: Context, children: Children) -> Use:
    return Use(names(children)[0], whole(children))


def include(context: Context, children: Children) -> Include:
    return Include(quoted(context, children), whole(children))


def may_be_weak(context: Context, children: Children) -> Clause:
    return Clause("may_be_weak", True, whole(children))


def starts(context: Context, children: Children) -> Clause:
    return Clause("starts", children[1].text, whole(children))


def supply(context: Context, children: Children) -> SupplyStatement:
    return SupplyStatement(
        of(children, Family)[0],
        clause(children, "may_be_weak", False),
        clause(children, "starts"),
        text(context, children),
        whole(children),
    )


def surroundings(context: Context, children: Children) -> Surroundings:
    return Surroundings(
        of(children, Family)[0],
        clause(children, "names"),
        text(context, children),
        whole(children),
    )


def arguments(context: Context, children: Children) -> Clause:
    return Clause("arguments", tuple(of(children, Argument)), whole(children))


def worked_by(context: Context, children: Children) -> Clause:
    return Clause("worked_by", conditions(children)[0], whole(children))


def role(context: Context, children: Children) -> Clause:
    return Clause("role", children[1].text, whole(children))


def part(context: Context, children: Children) -> PartStatement:
    kind = next(c for c in children if isinstance(c, Lexeme) and c.sort == "NAME")
    return PartStatement(
        of(children, Family)[0],
        kind.text,
        clause(children, "arguments", ()),
        clause(children, "worked_by"),
        tuple(clauses(children, "role")),
        text(context, children),
        whole(children),
        kind.span,
    )


def line(context: Context, children: Children) -> LineStatement:
    return LineStatement(
        of(children, Family)[0],
        clause(children, "references"),
        text(context, children),
        whole(children),
    )


def tube_length(context: Context, children: Children) -> Clause:
    return Clause("length", children[1], whole(children))


def tube_bore(context: Context, children: Children) -> Clause:
    return Clause("bore", children[1], whole(children))


def tube_label(context: Context, children: Children) -> Clause:
    return Clause("label", quoted(context, children), whole(children))


def tube(context: Context, children: Children) -> TubeStatement:
    line_name, end = of(children, Reference)
    first: dict[str, Clause] = {}
    for fact in of(children, Clause):
        if fact.name in first:
            context.problems.append(
                Diagnostic(
                    fact.span,
                    "E0121",
                    f"the {fact.name} of this tube is given twice",
                    ((first[fact.name].span, "first given here"),),
                )
            )
        first.setdefault(fact.name, fact)
    length: Measure | None = clause(children, "length")
    bore: Measure | None = clause(children, "bore")
    return TubeStatement(line_name, end, length, bore, clause(children, "label"), whole(children))


def left_open(context: Context, children: Children) -> LeftOpen:
    return LeftOpen(clause(children, "references"), whole(children))


def plug(context: Context, children: Children) -> Plug:
    return Plug(clause(children, "references"), whole(children))


def place(context: Context, children: Children) -> Places:
    return Places(tuple(of(children, Family)), text(context, children), whole(children))


def medium(context: Context, children: Children) -> Clause:
    return Clause("medium", children[0].text, whole(children))


def link(context: Context, children: Children) -> Reference:
    found: Reference = children[0]
    return found


def chain(context: Context, children: Children) -> Chain:
    return Chain(clause(children, "medium"), tuple(of(children, Reference)), whole(children))


def start_at(context: Context, children: Children) -> StartAt:
    return StartAt(of(children, Reference)[0], names(children)[0], whole(children))


def runs_on(context: Context, children: Children) -> RunsOn:
    return RunsOn(quoted(context, children), whole(children))


def parameters(context: Context, children: Children) -> Clause:
    return Clause("parameters", tuple(names(children)), whole(children))


def assembly_port(context: Context, children: Children) -> AssemblyPort:
    return AssemblyPort(
        names(children)[0],
        clause(children, "references"),
        text(context, children),
        whole(children),
    )


def assembly(context: Context, children: Children) -> Assembly:
    return Assembly(
        names(children)[0],
        clause(children, "parameters", ()),
        text(context, children),
        items(children),
        whole(children),
    )


def items(children: Children) -> tuple[Any, ...]:
    """The finished statements or items of a block."""
    return tuple(c for c in children if not isinstance(c, Lexeme | Clause))
