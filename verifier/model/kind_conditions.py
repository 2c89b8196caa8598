"""Conditions written inside a kind, as conditions of its template (M1, M2)."""

from __future__ import annotations

from itertools import product

from verifier.diagnostics.span import Span
from verifier.model.circuit import Where
from verifier.model.condition import All, Always, Any, At, Condition, Hand, High, Not, Setting
from verifier.model.kind_names import KindNames
from verifier.model.mistakes import did_you_mean
from verifier.model.simplify import FALSE, all_of, any_of, negate
from verifier.model.template import WORKED
from verifier.syntax import tree

MOST_CUBES = 256

Cube = tuple[Where, ...]


class _TooManyCubes(Exception):
    """A condition has too many alternatives."""


def kind_condition(expression: tree.Expression, names: KindNames) -> Condition:
    """A condition over the kind's own things. A mistake is told and read as false."""
    if isinstance(expression, tree.If):
        return any_of(
            (negate(kind_condition(expression.when, names)), kind_condition(expression.then, names))
        )
    if isinstance(expression, tree.And):
        return all_of([kind_condition(one, names) for one in expression.of])
    if isinstance(expression, tree.Or):
        return any_of([kind_condition(one, names) for one in expression.of])
    if isinstance(expression, tree.Negated):
        return negate(kind_condition(expression.of, names))
    if isinstance(expression, tree.ByHand):
        hand = names.hand(expression.hand, expression.span)
        return FALSE if hand is None else Hand(hand)
    if isinstance(expression, tree.Worked):
        return Hand(WORKED)
    if isinstance(expression, tree.Is):
        return _is(expression, names)
    if isinstance(expression, tree.Word):
        return _word(expression, names)
    names.mistakes.add(
        "E0607", expression.span, "a kind speaks of its own ports, elements and hands only"
    )
    return FALSE


def _own_name(reference: tree.Reference, names: KindNames) -> str | None:
    if len(reference.segments) == 1 and not reference.segments[0].indices:
        return reference.segments[0].name
    names.mistakes.add(
        "E0607", reference.span, "a kind speaks of its own ports, elements and hands only"
    )
    return None


def _word(word: tree.Word, names: KindNames) -> Condition:
    if word.name not in ("high", "low"):
        if word.name in names.hands:
            hint = f"write `{word.name} by hand`"
        else:
            hint = did_you_mean(word.name, ("high", "low"))
        names.mistakes.add(
            "E0607", word.span, f"the word `{word.name}` has no meaning inside a kind", hint=hint
        )
        return FALSE
    if len(word.arguments) != 1:
        names.mistakes.add("E0712", word.span, f"`{word.name}` takes one port")
        return FALSE
    name = _own_name(word.arguments[0], names)
    port = None if name is None else names.air_port(name, word.arguments[0].span)
    if port is None or name is None:
        return FALSE
    high = High(port, name)
    return high if word.name == "high" else negate(high)


def _is(expression: tree.Is, names: KindNames) -> Condition:
    name = _own_name(expression.subject, names)
    if name is None:
        return FALSE
    switch = names.switches.get(name)
    if switch is not None:
        if expression.value in switch.values:
            index = list(names.switches).index(name)
            return Setting(index, (switch.values.index(expression.value),))
        names.mistakes.add(
            "E0602",
            expression.span,
            f"`{name}` has no value `{expression.value}`",
            related=((switch.span, f"its values: {', '.join(switch.values)}"),),
            hint=did_you_mean(expression.value, switch.values),
        )
        return FALSE
    element = names.element(name, expression.subject.span)
    if element is None:
        return FALSE
    position = names.position(names.elements[name], expression.value, expression.span)
    return FALSE if position is None else At(element, (position,))


def cubes(condition: Condition, names: KindNames, span: Span) -> tuple[Cube, ...] | None:
    """A condition on positions alone, as alternatives of which each joins one `Where` per element.

    None after telling that it speaks of anything else.
    """
    sizes = [len(element.positions) for element in names.elements.values()]
    try:
        found = _cubes(condition, True, sizes)
    except _TooManyCubes:
        told = f"`when` of a passage has more than {MOST_CUBES} alternatives: give it an element"
        names.mistakes.add("E0604", span, told)
        return None
    if found is None:
        names.mistakes.add(
            "E0604",
            span,
            "`when` of a passage speaks of positions of the kind's own elements only",
        )
        return None
    return tuple(tuple(Where(e, places) for e, places in sorted(one.items())) for one in found)


def _cubes(
    condition: Condition, wanted: bool, sizes: list[int]
) -> list[dict[int, tuple[int, ...]]] | None:
    if isinstance(condition, Not):
        return _cubes(condition.of, not wanted, sizes)
    if isinstance(condition, Always):
        return [{}] if condition.value is wanted else []
    if isinstance(condition, At):
        size = range(sizes[condition.element])
        places = tuple(p for p in size if (p in condition.positions) is wanted)
        return [{condition.element: places}] if places else []
    if not isinstance(condition, All | Any):
        return None
    parts = [_cubes(one, wanted, sizes) for one in condition.of]
    known = [part for part in parts if part is not None]
    if len(known) != len(parts):
        return None
    if isinstance(condition, All) is not wanted:
        return _distinct([cube for part in known for cube in part])
    count = 1
    for part in known:
        count *= max(1, len(part))
    if count > MOST_CUBES:
        raise _TooManyCubes
    merged = [_meet(chosen) for chosen in product(*known)]
    return _distinct([cube for cube in merged if cube is not None])


def _meet(chosen: tuple[dict[int, tuple[int, ...]], ...]) -> dict[int, tuple[int, ...]] | None:
    """The cube where all of some cubes hold, None if there is none."""
    result: dict[int, tuple[int, ...]] = {}
    for cube in chosen:
        for element, places in cube.items():
            kept = tuple(p for p in result.get(element, places) if p in places)
            if not kept:
                return None
            result[element] = kept
    return result


def _distinct(found: list[dict[int, tuple[int, ...]]]) -> list[dict[int, tuple[int, ...]]]:
    kept: list[dict[int, tuple[int, ...]]] = []
    for cube in found:
        if cube not in kept:
            kept.append(cube)
    return kept
