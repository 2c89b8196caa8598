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
    flat: list[Condition] = []
    for part in parts:
        if isinstance(part, All):
            flat.extend(part.of)
        else:
            flat.append(part)
    kept = _kept(flat, FALSE)
    if kept is None:
        return FALSE
    return TRUE if not kept else kept[0] if len(kept) == 1 else All(kept)


def any_of(parts: Iterable[Condition]) -> Condition:
    """Disjunction, flattened, each part once; true when a condition and its opposite meet."""
    flat: list[Condition] = []
    for part in parts:
        if isinstance(part, Any):
            flat.extend(part.of)
        else:
            flat.append(part)
    kept = _kept(flat, TRUE)
    if kept is None:
        return TRUE
    return FALSE if not kept else kept[0] if len(kept) == 1 else Any(kept)


def _kept(parts: list[Condition], absorbing: Always) -> tuple[Condition, ...] | None:
    """Each part once, constants left out; None when the absorbing one is among them, or a condition
    and its opposite."""
    if len(parts) == 2:  # by far the most frequent, and hashing would be most of the work
        one, other = parts
        if not isinstance(one, Always) and not isinstance(other, Always):
            if one == other:
                return (one,)
            return None if _opposite(one, other) else (one, other)
    kept: dict[Condition, None] = {}
    for part in parts:
        if isinstance(part, Always):
            if part == absorbing:
                return None
            continue
        opposite = part.of if isinstance(part, Not) else Not(part)
        if opposite in kept:
            return None
        kept[part] = None
    return tuple(kept)


def _opposite(one: Condition, other: Condition) -> bool:
    if isinstance(one, Not):
        return one.of == other
    return isinstance(other, Not) and other.of == one


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
