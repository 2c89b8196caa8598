"""Quantified variables: their ranges (given, or those of what they index) and values."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Iterator

from verifier.model.draft import Draft
from verifier.model.numbers import (
    Env,
    Value,
    evaluate,
    span_of_range,
    told_variable_twice,
    variables,
)
from verifier.model.references import member_text
from verifier.model.things import AssemblyThing, FamilyEntry, Scope
from verifier.syntax import tree

Content = tree.Expression | tree.Reference


def assignments(
    binders: tree.Binders, contents: Iterable[Content], scope: Scope, env: Env, draft: Draft
) -> list[dict[str, Value]] | None:
    """The values of the variables of `binders`, in order, each joined to `env`.

    contents: what the variables are for; their ranges are read off it, and each must occur in it.
    None after telling a mistake.
    """
    references = [r for content in contents for r in references_of(content)]
    seen: set[str] = set(env)
    for variable in binders.variables:
        if variable.name in seen:
            told_variable_twice(variable.name, variable.span, draft.mistakes)
            return None
        seen.add(variable.name)
    if not _all_used(binders, references, draft):
        return None
    chosen: list[dict[str, Value]] = [dict(env)]
    previous = ""
    for variable in binders.variables:
        longer: list[dict[str, Value]] = []
        # Ranges are the same for all values of variables that they do not speak of.
        needed = _needed(variable, references)
        ranges: dict[tuple[Value | None, ...], list[int] | None] = {}
        for one in chosen:
            key = tuple(map(one.get, needed))
            if key not in ranges:
                ranges[key] = _range(variable, references, scope, one, draft)
            values = ranges[key]
            if values is None:
                return None
            floor = one[previous] if variable.above else None
            kept = [v for v in values if v > floor] if isinstance(floor, int) else values
            draft.budget.work(len(kept), f"`{variable.name}`")
            longer.extend({**one, variable.name: value} for value in kept)
        chosen, previous = longer, variable.name
    result = _those_where(binders.where, chosen, draft)
    if result is not None and not result:
        draft.mistakes.add("E0708", binders.span, "no values are left to speak of")
        return None
    return result


def labels(binders: tree.Binders, chosen: list[dict[str, Value]]) -> list[str]:
    """For example "i = 1, j = 2", of each assignment."""
    names = [variable.name for variable in binders.variables]
    pattern = ", ".join(f"{name} = %s" for name in names)
    return [pattern % values for values in map(operator.itemgetter(*names), chosen)]


def _those_where(
    comparisons: tuple[tree.Comparison, ...], chosen: list[dict[str, Value]], draft: Draft
) -> list[dict[str, Value]] | None:
    """The assignments that meet all comparisons."""
    for comparison in comparisons:
        compare = _COMPARE[comparison.operator]
        kept = []
        for one in chosen:
            left = evaluate(comparison.left, one, draft.mistakes)
            right = evaluate(comparison.right, one, draft.mistakes)
            if left is None or right is None:
                return None
            if compare(left, right):
                kept.append(one)
        chosen = kept
    return chosen


_COMPARE: dict[str, Callable[[int, int], bool]] = {
    "<": operator.lt,
    "<=": operator.le,
    "=": operator.eq,
    "<>": operator.ne,
}


def _needed(variable: tree.Binder, references: list[tree.Reference]) -> tuple[str, ...]:
    """The other variables that the range of this one may depend on."""
    if variable.low is not None and variable.high is not None:
        return variables(variable.low) + variables(variable.high)
    speaking = (names for names in map(variables_of, references) if variable.name in names)
    return tuple(dict.fromkeys(n for names in speaking for n in names if n != variable.name))


def variables_of(content: Content) -> tuple[str, ...]:
    """Every variable that a content speaks of, also of those that it binds itself."""
    found: dict[str, None] = {}
    for number in _numbers_of(content):
        found.update(dict.fromkeys(variables(number)))
    return tuple(found)


def _numbers_of(content: Content) -> Iterator[tree.Sum]:
    for reference in references_of(content):
        for segment in reference.segments:
            for index in segment.indices:
                yield index.low
                if index.high is not None:
                    yield index.high
    for binders in _binders_of(content):
        for variable in binders.variables:
            if variable.low is not None and variable.high is not None:
                yield variable.low
                yield variable.high
        for comparison in binders.where:
            yield comparison.left
            yield comparison.right


def _binders_of(content: Content) -> Iterator[tree.Binders]:
    if isinstance(content, tree.If):
        yield from _binders_of(content.when)
        yield from _binders_of(content.then)
    elif isinstance(content, tree.And | tree.Or):
        for one in content.of:
            yield from _binders_of(one)
    elif isinstance(content, tree.Negated | tree.Quantified):
        if isinstance(content, tree.Quantified):
            yield content.binders
        yield from _binders_of(content.of)


def _all_used(binders: tree.Binders, references: list[tree.Reference], draft: Draft) -> bool:
    used: set[str] = set()
    for reference in references:
        for segment in reference.segments:
            for index in segment.indices:
                used.update(variables(index.low))
                used.update(variables(index.high) if index.high is not None else ())
    clear = True
    for variable in binders.variables:
        if variable.name not in used:
            draft.mistakes.add(
                "E0707", variable.span, f"the condition does not speak of `{variable.name}`"
            )
            clear = False
    return clear


def _range(
    variable: tree.Binder,
    references: list[tree.Reference],
    scope: Scope,
    env: Env,
    draft: Draft,
) -> list[int] | None:
    if variable.low is not None and variable.high is not None:
        values = span_of_range(
            variable.low, variable.high, variable.span, env, draft.mistakes, draft.budget
        )
        return None if values is None else list(values)
    found: dict[tuple[int, ...], str] = {}
    for reference in references:
        for entry, keys in _indexed(reference, variable.name, scope, env):
            found.setdefault(keys, entry)
    if len(found) == 1:
        return list(next(iter(found)))
    given = f"say `{variable.name} in FROM..TO`"
    if not found:
        draft.mistakes.add(
            "E0706",
            variable.span,
            f"nothing tells which values `{variable.name}` takes",
            hint=given,
        )
    else:
        listed = " but ".join(found.values())
        draft.mistakes.add(
            "E0706",
            variable.span,
            f"the range of `{variable.name}` is not clear: {listed}",
            hint=given,
        )
    return None


def _indexed(
    reference: tree.Reference, name: str, scope: Scope, env: Env
) -> Iterator[tuple[str, tuple[int, ...]]]:
    """The index values of each family that the variable indexes by itself, and its words."""
    here: Scope | None = scope
    for segment in reference.segments:
        entry = here.names.get(segment.name) if here is not None else None
        if entry is None or len(segment.indices) != entry.arity:
            return
        known = [_known(index, env) for index in segment.indices]
        keys = [
            key
            for key in entry.members
            if all(k is None or k == part for k, part in zip(known, key, strict=True))
        ]
        for place, index in enumerate(segment.indices):
            if index.high is None and index.low == tree.Variable(name, index.low.span):
                values = tuple(sorted({key[place] for key in keys}))
                if values:
                    yield member_text(entry, segment.name), values
        here = _inside(entry, keys)


def _known(index: tree.Index, env: Env) -> int | None:
    """The value of an index if it is a lone number or a variable already chosen."""
    if index.high is not None:
        return None
    if isinstance(index.low, tree.Integer):
        return index.low.value
    if isinstance(index.low, tree.Variable):
        value = env.get(index.low.name)
        return value if isinstance(value, int) else None
    return None


def _inside(entry: FamilyEntry, keys: list[tuple[int, ...]]) -> Scope | None:
    for key in keys:
        thing = entry.members[key]
        if isinstance(thing, AssemblyThing):
            return thing.inner
    return None


def references_of(content: Content) -> Iterator[tree.Reference]:
    """Every reference in an expression, from left to right."""
    if isinstance(content, tree.Reference):
        yield content
    elif isinstance(content, tree.Word):
        yield from content.arguments
    elif isinstance(content, tree.Is):
        yield content.subject
    elif isinstance(content, tree.If):
        yield from references_of(content.when)
        yield from references_of(content.then)
    elif isinstance(content, tree.And | tree.Or):
        for one in content.of:
            yield from references_of(one)
    elif isinstance(content, tree.Negated | tree.Quantified):
        yield from references_of(content.of)
