"""Index arithmetic, families and their members."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from verifier.diagnostics.span import Span
from verifier.model.mistakes import Budget, Mistakes, did_you_mean
from verifier.syntax import tree

LARGEST = 1_000_000_000


class KindName(Struct, frozen=True):
    """A kind or assembly given as the value of a parameter."""

    name: str


Value = int | KindName | tree.Measure
Env = Mapping[str, Value]
Key = tuple[int, ...]


def evaluate(number: tree.Sum, env: Env, mistakes: Mistakes) -> int | None:
    """The value of a sum; None after telling why there is none."""
    if isinstance(number, tree.Integer):
        return _bounded(number.value, number.span, mistakes)
    if isinstance(number, tree.Variable):
        value = env.get(number.name)
        if value is None:
            mistakes.add(
                "E0304",
                number.span,
                f"`{number.name}` is neither an index variable nor a parameter here",
                hint=did_you_mean(number.name, env),
            )
            return None
        if not isinstance(value, int):
            mistakes.add("E0303", number.span, f"parameter `{number.name}` is not a whole number")
            return None
        return value
    left = evaluate(number.left, env, mistakes)
    right = evaluate(number.right, env, mistakes)
    if left is None or right is None:
        return None
    if number.operator == "+":
        result = left + right
    elif number.operator == "-":
        result = left - right
    else:
        result = left * right
    return _bounded(result, number.span, mistakes)


def _bounded(value: int, span: Span, mistakes: Mistakes) -> int | None:
    if -LARGEST <= value <= LARGEST:
        return value
    mistakes.add("E0305", span, f"numbers of a design stay between -{LARGEST} and {LARGEST}")
    return None


def variables(number: tree.Sum) -> tuple[str, ...]:
    """Names of the variables of a sum, in order."""
    if isinstance(number, tree.Variable):
        return (number.name,)
    if isinstance(number, tree.Arithmetic):
        return variables(number.left) + variables(number.right)
    return ()


def span_of_range(
    low: tree.Sum, high: tree.Sum, span: Span, env: Env, mistakes: Mistakes, budget: Budget
) -> range | None:
    """`low..high`, both ends included; a range without members is a mistake."""
    first = evaluate(low, env, mistakes)
    last = evaluate(high, env, mistakes)
    if first is None or last is None:
        return None
    if last < first:
        mistakes.add(
            "E0302",
            span,
            f"the range {first}..{last} is empty",
            hint=f"did you mean {last}..{first}?" if last + 1 < first else "",
        )
        return None
    budget.work(last - first + 1, f"the range {first}..{last}")
    return range(first, last + 1)


def members(
    family: tree.Family, env: Env, mistakes: Mistakes, budget: Budget
) -> Iterator[tuple[Key, dict[str, Value]]]:
    """Each member's index and the values of its index variables (with those of `env`).

    A later dimension may use the variables of the earlier ones.
    """
    names: dict[str, tree.Dimension] = {}
    for dimension in family.dimensions:
        name = dimension.variable
        if name is None:
            continue
        if name in names or name in env:
            told_variable_twice(name, dimension.span, mistakes)
            return
        names[name] = dimension
    yield from _members(family.dimensions, (), dict(env), mistakes, budget)


def told_variable_twice(name: str, span: Span, mistakes: Mistakes) -> None:
    mistakes.add("E0309", span, f"`{name}` already stands for a number here; take another name")


def _members(
    dimensions: tuple[tree.Dimension, ...],
    key: Key,
    env: dict[str, Value],
    mistakes: Mistakes,
    budget: Budget,
) -> Iterator[tuple[Key, dict[str, Value]]]:
    if not dimensions:
        yield key, env
        return
    first, rest = dimensions[0], dimensions[1:]
    if first.high is None:
        value = evaluate(first.low, env, mistakes)
        if value is not None:
            yield from _members(rest, (*key, value), env, mistakes, budget)
        return
    values = span_of_range(first.low, first.high, first.span, env, mistakes, budget)
    for value in values or ():
        inner = env if first.variable is None else {**env, first.variable: value}
        yield from _members(rest, (*key, value), inner, mistakes, budget)


def key_text(key: Key) -> str:
    """`[1]`, `[1,2]`, or nothing for a thing that is no family."""
    return f"[{','.join(map(str, key))}]" if key else ""
