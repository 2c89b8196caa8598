"""Builders of numbers, sums, references, families and bound variables."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from msgspec.structs import replace

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.syntax.lexeme import Children, Clause, Context, Lexeme, clause, names, of, whole
from verifier.syntax.tree import (
    Argument,
    Arithmetic,
    Binder,
    Binders,
    Comparison,
    Dimension,
    Family,
    Index,
    Integer,
    Measure,
    Reference,
    Segment,
    Sum,
    Variable,
)

# Nine digits count anything in a circuit and keep every later computation small.
MOST_DIGITS = 9
_SUM = (Integer, Variable, Arithmetic)


def _sums(children: Children) -> list[Sum]:
    return of(children, *_SUM)


def whole_number(context: Context, lexeme: Lexeme) -> int:
    return int(_checked(context, lexeme))


def _checked(context: Context, lexeme: Lexeme) -> str:
    """The digits of a number, or 1 after a complaint if there are too many of them."""
    if all(len(digits) <= MOST_DIGITS for digits in lexeme.text.split(".")):
        return lexeme.text
    context.problems.append(
        Diagnostic(
            lexeme.span,
            "E0118",
            f"a number of more than {MOST_DIGITS} digits on one side of its point",
            hint="use a larger or smaller unit",
        )
    )
    return "1"


def integer(context: Context, children: Children) -> Integer:
    return Integer(whole_number(context, children[0]), whole(children))


def variable(context: Context, children: Children) -> Variable:
    return Variable(children[0].text, whole(children))


def _arithmetic(operator: Literal["+", "-", "*"], children: Children) -> Arithmetic:
    return Arithmetic(operator, children[0], children[2], whole(children))


def plus(context: Context, children: Children) -> Arithmetic:
    return _arithmetic("+", children)


def minus(context: Context, children: Children) -> Arithmetic:
    return _arithmetic("-", children)


def times(context: Context, children: Children) -> Arithmetic:
    return _arithmetic("*", children)


def bracketed(context: Context, children: Children) -> object:
    """`( … )`: what stands inside, with the brackets in its span."""
    return replace(children[1], span=whole(children))


def number_whole(context: Context, children: Children) -> Clause:
    value = Fraction(_checked(context, children[0]))
    return Clause("number", (value, children[0].text), whole(children))


def number_ratio(context: Context, children: Children) -> Clause:
    above = whole_number(context, children[0])
    below = whole_number(context, children[2])
    span = whole(children)
    if below == 0:
        context.problems.append(
            Diagnostic(
                span, "E0119", "a number divided by nothing", hint="the lower number is zero"
            )
        )
        below = 1
    written = f"{children[0].text}/{children[2].text}"
    return Clause("number", (Fraction(above, below), written), span)


def quantity(context: Context, children: Children) -> Measure:
    value, written = children[0].value
    return Measure(value, written, children[1].text, whole(children))


def argument(context: Context, children: Children) -> Argument:
    return Argument(children[0].text, children[2], whole(children))


def compare(operator: str, children: Children) -> Clause:
    return Clause("compare", operator, whole(children))


def comparison(context: Context, children: Children) -> Comparison:
    left, right = _sums(children)
    return Comparison(left, clause(children, "compare"), right, whole(children))


def where(context: Context, children: Children) -> Clause:
    return Clause("where", tuple(of(children, Comparison)), whole(children))


def binder(context: Context, children: Children) -> Binder:
    bounds = _sums(children)
    low, high = bounds if bounds else (None, None)
    return Binder(children[0].text, low, high, False, whole(children))


def also(context: Context, children: Children) -> Binder:
    found: Binder = children[1]
    return found


def above(context: Context, children: Children) -> Binder:
    found: Binder = children[1]
    return replace(found, above=True)


def binders(context: Context, children: Children) -> Binders:
    return Binders(tuple(of(children, Binder)), clause(children, "where", ()), whole(children))


def family(context: Context, children: Children) -> Family:
    return Family(children[0].text, clause(children, "dimensions", ()), whole(children))


def dimensions(context: Context, children: Children) -> Clause:
    return Clause("dimensions", tuple(of(children, Dimension)), whole(children))


def dimension_span(context: Context, children: Children) -> Dimension:
    low, high = _sums(children)
    named = names(children)
    return Dimension(named[0] if named else None, low, high, whole(children))


def dimension_single(context: Context, children: Children) -> Dimension:
    return Dimension(None, children[0], None, whole(children))


def references(context: Context, children: Children) -> Clause:
    return Clause("references", tuple(of(children, Reference)), whole(children))


def reference(context: Context, children: Children) -> Reference:
    return Reference(tuple(of(children, Segment)), whole(children))


def segment(context: Context, children: Children) -> Segment:
    return Segment(children[0].text, clause(children, "indices", ()), whole(children))


def indices(context: Context, children: Children) -> Clause:
    return Clause("indices", tuple(of(children, Index)), whole(children))


def index_at(context: Context, children: Children) -> Index:
    return Index(children[0], None, None, whole(children))


def index_across(context: Context, children: Children) -> Index:
    low, high = _sums(children)
    return Index(low, high, None, whole(children))


def index_bound(context: Context, children: Children) -> Index:
    low, high = _sums(children)
    return Index(low, high, children[0].text, whole(children))


def name_list(context: Context, children: Children) -> Clause:
    return Clause("names", tuple(names(children)), whole(children))
