"""Building conditions with constants folded, and walking over their atoms."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    AtRest,
    Condition,
    Hand,
    High,
    Not,
    Path,
    Setting,
)

TRUE = Always(True)
FALSE = Always(False)

Atom = High | At | Hand | Setting | Path | AtRest


def negate(condition: Condition) -> Condition:
    if isinstance(condition, Always):
        return Always(not condition.value)
    if isinstance(condition, Not):
        return condition.of
    return Not(condition)


def all_of(parts: Iterable[Condition]) -> Condition:
    """Conjunction, flattened, each part once; false when a condition and its opposite meet."""
    kept: dict[Condition, None] = {}
    for part in parts:
        inner = part.of if isinstance(part, All) else (part,)
        for one in inner:
            if one == FALSE or negate(one) in kept:
                return FALSE
            if one != TRUE:
                kept[one] = None
    flat = tuple(kept)
    return TRUE if not flat else flat[0] if len(flat) == 1 else All(flat)


def any_of(parts: Iterable[Condition]) -> Condition:
    """Disjunction, flattened, each part once; true when a condition and its opposite meet."""
    kept: dict[Condition, None] = {}
    for part in parts:
        inner = part.of if isinstance(part, Any) else (part,)
        for one in inner:
            if one == TRUE or negate(one) in kept:
                return TRUE
            if one != FALSE:
                kept[one] = None
    flat = tuple(kept)
    return FALSE if not flat else flat[0] if len(flat) == 1 else Any(flat)


def replace(condition: Condition, atom: Callable[[Atom], Condition]) -> Condition:
    """The condition with every atom replaced, simplified again."""
    if isinstance(condition, Always):
        return condition
    if isinstance(condition, Not):
        return negate(replace(condition.of, atom))
    if isinstance(condition, All):
        return all_of(replace(one, atom) for one in condition.of)
    if isinstance(condition, Any):
        return any_of(replace(one, atom) for one in condition.of)
    return atom(condition)


def atoms(condition: Condition) -> Iterator[Atom]:
    """Every atom, from left to right, repetitions included."""
    if isinstance(condition, Not):
        yield from atoms(condition.of)
    elif isinstance(condition, All | Any):
        for one in condition.of:
            yield from atoms(one)
    elif not isinstance(condition, Always):
        yield condition


def readers(conditions: Iterable[Condition]) -> tuple[str, ...]:
    """The distinct readings of pressure in some conditions, in order of appearance."""
    found: dict[str, None] = {}
    for condition in conditions:
        for atom in atoms(condition):
            if isinstance(atom, High):
                found[atom.reader] = None
    return tuple(found)
