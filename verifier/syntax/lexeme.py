"""What the parser hands to the builders: words and signs with their places, half-built clauses."""

from __future__ import annotations

from typing import Any, TypeVar

from msgspec import Struct

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.span import Span

T = TypeVar("T")


class Lexeme(Struct, frozen=True):
    """A word, number, quoted text or sign. `sort` is NAME, INT, DECIMAL, STRING, or a keyword's."""

    sort: str
    text: str
    span: Span


class Clause(Struct, frozen=True):
    """A part of a statement that is no tree node of its own: `role stop`, `may be weak`."""

    name: str
    value: Any
    span: Span


class Context(Struct):
    """Of one parse: mistakes that the grammar alone cannot see are collected in `problems`."""

    path: str
    problems: list[Diagnostic]


Children = list[Any]  # Lexemes, Clauses and finished tree nodes, each with a span


def whole(children: Children) -> Span:
    """From the first child's beginning to the last one's end."""
    first: Span = children[0].span
    last: Span = children[-1].span
    return Span(first.file, first.line, first.column, last.end_line, last.end_column)


def of(children: Children, *types: type[T]) -> list[T]:
    return [child for child in children if isinstance(child, types)]


def names(children: Children) -> list[str]:
    """The names among the children, and the numbers that stand for port names."""
    return [
        child.text
        for child in children
        if isinstance(child, Lexeme) and child.sort in ("NAME", "INT")
    ]


def clauses(children: Children, name: str) -> list[Any]:
    """The values of the clauses called `name`."""
    return [c.value for c in children if isinstance(c, Clause) and c.name == name]


def clause(children: Children, name: str, default: Any = None) -> Any:
    """The value of the clause called `name`, or the default if it was not written."""
    found = clauses(children, name)
    return found[0] if found else default


def texts(context: Context, children: Children) -> list[str]:
    """The quoted texts among the children, without quotes and backslashes."""
    return [unquote(context, c) for c in children if isinstance(c, Lexeme) and c.sort == "STRING"]


def text(context: Context, children: Children) -> str | None:
    """The first quoted text among the children, if there is one."""
    found = texts(context, children)
    return found[0] if found else None


def unquote(context: Context, lexeme: Lexeme) -> str:
    """The text between the quotes; a backslash may stand only before a quote or a backslash."""
    raw = lexeme.text[1:-1]
    if "\\" not in raw:
        return raw
    out: list[str] = []
    at = 0
    while at < len(raw):
        if raw[at] == "\\":
            at += 1
            if raw[at] not in '"\\':
                span = lexeme.span
                column = span.column + at  # of the backslash: the opening quote shifts by one
                context.problems.append(
                    Diagnostic(
                        Span(span.file, span.line, column, span.line, column + 2),
                        "E0104",
                        f"`\\{raw[at]}` has no meaning in a quoted text",
                        hint=r"a backslash stands only before a quote or a backslash: \" or \\",
                    )
                )
            out.append(raw[at])
        else:
            out.append(raw[at])
        at += 1
    return "".join(out)
