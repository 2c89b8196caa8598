"""The layout of numbers, references and conditions."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.diagnostics.span import Span
from verifier.syntax.document import SOFT, Doc, Group, Mark, Nest, commas, joined
from verifier.syntax.tree import (
    Action,
    And,
    Arithmetic,
    Binder,
    Binders,
    ByHand,
    Dimension,
    Expression,
    Family,
    If,
    Index,
    Integer,
    Is,
    Measure,
    Negated,
    Or,
    Quantified,
    Quantifier,
    Reference,
    Segment,
    Sum,
    Variable,
    Word,
    Worked,
)

STEP = 2


def mark(span: Span) -> Mark:
    return Mark((span.line, span.column))


def quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def total(value: Sum) -> str:
    """A sum; brackets only where its shape needs them."""
    if isinstance(value, Integer):
        return str(value.value)
    if isinstance(value, Variable):
        return value.name
    left, right = total(value.left), total(value.right)
    if value.operator == "*":
        if isinstance(value.left, Arithmetic) and value.left.operator != "*":
            left = f"({left})"
        if isinstance(value.right, Arithmetic):
            right = f"({right})"
    elif isinstance(value.right, Arithmetic) and value.right.operator != "*":
        right = f"({right})"
    return f"{left} {value.operator} {right}"


def measure(value: Measure) -> str:
    return f"{value.written} {value.unit}"


def value_of(value: Sum | Measure) -> str:
    return measure(value) if isinstance(value, Measure) else total(value)


def bounds(low: Sum, high: Sum | None) -> str:
    return total(low) if high is None else f"{total(low)}..{total(high)}"


def _ranged(item: Index | Dimension) -> Doc:
    variable = f"{item.variable} in " if item.variable is not None else ""
    return [mark(item.span), variable + bounds(item.low, item.high)]


def _indexed(name: str, items: Sequence[Index | Dimension]) -> Doc:
    return [name, "[", commas(_ranged(item) for item in items), "]"] if items else name


def family(item: Family) -> Doc:
    return [mark(item.span), _indexed(item.name, item.dimensions)]


def _segment(item: Segment) -> Doc:
    return _indexed(item.name, item.indices)


def reference(item: Reference) -> Doc:
    return [mark(item.span), joined((_segment(segment) for segment in item.segments), ".")]


def references(items: Sequence[Reference]) -> Doc:
    return commas(reference(item) for item in items)


def _binder(item: Binder) -> Doc:
    text = item.name
    if item.low is not None and item.high is not None:
        text += f" in {total(item.low)}..{total(item.high)}"
    return [mark(item.span), text]


def binders(item: Binders) -> Doc:
    out: list[Doc] = [mark(item.span)]
    for index, variable in enumerate(item.variables):
        if index:
            out += [" <", SOFT] if variable.above else [",", SOFT]
        out.append(_binder(variable))
    if item.where:
        comparisons = (
            f"{total(each.left)} {each.operator} {total(each.right)}" for each in item.where
        )
        out += [SOFT, "where ", joined(comparisons, [SOFT, "and "])]
    return out


def quantifier(item: Quantifier) -> Doc:
    return [mark(item.span), f"for {item.word} ", binders(item.binders)]


def condition(item: Expression) -> Doc:
    return [mark(item.span), _condition(item)]


def _condition(item: Expression) -> Doc:
    if isinstance(item, If):
        when = _bracketed(item.when, (If, Quantified))
        return Group(["if ", when, SOFT, "then ", condition(item.then)])
    if isinstance(item, Quantified):
        word = "every " if item.every else "some "
        return Group([word, binders(item.binders), ":", Nest(STEP, [SOFT, condition(item.of)])])
    if isinstance(item, Or):
        return _operands(item.of, "or ", (If, Quantified, Or))
    if isinstance(item, And):
        return _operands(item.of, "and ", (If, Quantified, Or, And))
    if isinstance(item, Negated):
        return ["not ", _bracketed(item.of, (If, Quantified, Or, And))]
    if isinstance(item, Word):
        return [item.name, "(", references(item.arguments), ")"]
    if isinstance(item, Is):
        return [reference(item.subject), f" is {item.value}"]
    if isinstance(item, ByHand):
        return f"{item.hand} by hand"
    return "worked" if isinstance(item, Worked) else "at rest"


def _operands(items: Sequence[Expression], word: str, bracketed: tuple[type, ...]) -> Doc:
    operands = [_bracketed(item, bracketed) for item in items]
    return Group(Nest(STEP, joined(operands, [SOFT, word])))


def _bracketed(item: Expression, types: tuple[type, ...]) -> Doc:
    """In brackets if it is of one of the types, which bind no tighter than what is around."""
    if isinstance(item, types):
        return [mark(item.span), "(", Nest(1, _condition(item)), ")"]
    return condition(item)


def action(item: Action) -> Doc:
    return [mark(item.span), "not " if item.undo else "", condition(item.what)]
