"""Conditions under some reading of in-between pressures, exactly (rules M2, P5)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from verifier.model.condition import All, Always, Any, Condition, High, Not
from verifier.transition.graph import FALSE, TRUE, Graph

Key = tuple[str, int]
"""One reading: who reads which volume. It is one Boolean, however often it is mentioned."""


class Read(NamedTuple):
    """The reading `key` is high, or (not `high`) low."""

    key: Key
    high: bool


class Joint(NamedTuple):
    """Conjunction (`every`) or disjunction of at least two parts, none of them constant."""

    every: bool
    parts: tuple[Formula, ...]


SENSE, BOTH_SENSES = 1, 3
"""Bits of the senses in which a reading is asked for: high, high or low."""

Formula = int | Read | Joint
"""A condition in negation normal form; an int is a literal of the graph."""


def formula_of(condition: Condition, literal: Callable[[Condition], int]) -> Formula:
    """`literal` gives the graph's literal of every atom that is not a reading."""
    return _normal(condition, True, literal)


def _normal(condition: Condition, sense: bool, literal: Callable[[Condition], int]) -> Formula:
    match condition:
        case Always(value=value):
            return int(value == sense)
        case Not(of=inner):
            return _normal(inner, not sense, literal)
        case All(of=parts):
            return _joint(sense, [_normal(part, sense, literal) for part in parts])
        case Any(of=parts):
            return _joint(not sense, [_normal(part, sense, literal) for part in parts])
        case High(volume=volume, reader=reader):
            return Read((reader, volume), sense)
        case _:
            return literal(condition) ^ int(not sense)


def _joint(every: bool, parts: list[Formula]) -> Formula:
    neutral, absorbing = (TRUE, FALSE) if every else (FALSE, TRUE)
    flat: dict[Formula, None] = {}
    for part in parts:
        if isinstance(part, Joint) and part.every == every:
            flat.update(dict.fromkeys(part.parts))
        elif part != neutral:
            flat[part] = None
    if absorbing in flat:
        return absorbing
    kept = tuple(flat)
    return neutral if not kept else kept[0] if len(kept) == 1 else Joint(every, kept)


class Part:
    """A condition that may be part of many.

    asked: the readings that it asks for, in which senses; None if there are none.
    true, false: the literals of "some reading gives it this truth value"; -1 until made.
    """

    __slots__ = ("asked", "condition", "false", "true")

    def __init__(self, condition: Condition, asked: dict[Key, int] | None) -> None:
        self.condition = condition  # kept, so that its id remains its own
        self.asked = asked
        self.true = self.false = -1


def asked_by(condition: Condition, parts: Sequence[Part]) -> dict[Key, int] | None:
    """The readings of a condition with these parts."""
    if isinstance(condition, High):
        return {(condition.reader, condition.volume): SENSE}
    found: dict[Key, int] = {}
    for part in parts:
        for key, senses in (part.asked or {}).items():
            opposite = isinstance(condition, Not) and senses != BOTH_SENSES
            senses = BOTH_SENSES ^ senses if opposite else senses
            found[key] = found.get(key, 0) | senses
    return found or None


def clash(parts: Iterable[Part]) -> bool:
    """Whether what two of the conditions ask of one reading can be at odds. If not, all of them are
    true under some reading when each is under one of its own: a reading asked for in one sense only
    is best read in that sense."""
    asked: dict[Key, int] | None = None
    shared = False
    for part in parts:
        if part.asked is None:
            continue
        if asked is None:
            asked = part.asked
            continue
        both = dict(asked)
        for key, senses in part.asked.items():
            shared = shared or key in both
            both[key] = both.get(key, 0) | senses
        asked = both
    return shared and asked is not None and BOTH_SENSES in asked.values()


class Readings:
    """`high[v]`, `low[v]`: volume v may be read so. One of them is true in every state."""

    def __init__(self, graph: Graph, high: tuple[int, ...], low: tuple[int, ...]) -> None:
        self.graph = graph
        self.high = high
        self.low = low

    def some(self, formula: Formula) -> int:
        """The literal of: some reading that the pressures allow makes the formula true.

        A reading that occurs in one sense only is best read in that sense. A disjunction asks its
        parts one by one; a conjunction those of its parts that share no reading. Only what is left
        is tried both ways.
        """
        if isinstance(formula, int):
            return formula
        senses = _senses(formula)
        settled = {
            key: self.high[key[1]] if True in found else self.low[key[1]] ^ 1
            for key, found in senses.items()
            if len(found) == 1
        }
        formula = _replaced(formula, settled)
        match formula:
            case Joint(every=True, parts=parts):
                return self.graph.all(self._group(group) for group in _groups(parts))
            case Joint(parts=parts):
                return self.graph.any(self.some(part) for part in parts)
            case Read(key=(_, volume), high=high):
                return (self.high if high else self.low)[volume]
        return formula

    def _group(self, parts: tuple[Formula, ...]) -> int:
        if len(parts) == 1:
            return self.some(parts[0])
        counts: dict[Key, int] = {}
        for part in parts:
            for key in _senses(part):
                counts[key] = counts.get(key, 0) + 1
        key = max(counts, key=lambda k: counts[k])
        whole = Joint(True, parts)
        then, otherwise = (self.some(_replaced(whole, {key: value})) for value in (TRUE, FALSE))
        if then == otherwise:
            return then
        graph = self.graph
        return graph.either(
            graph.both(self.high[key[1]], then), graph.both(self.low[key[1]], otherwise)
        )


def _senses(formula: Formula) -> dict[Key, set[bool]]:
    found: dict[Key, set[bool]] = {}
    stack = [formula]
    while stack:
        part = stack.pop()
        if isinstance(part, Read):
            found.setdefault(part.key, set()).add(part.high)
        elif isinstance(part, Joint):
            stack += reversed(part.parts)
    return found


def _replaced(formula: Formula, values: dict[Key, int]) -> Formula:
    """The formula with literals in place of readings: of each, that it is high."""
    if isinstance(formula, Read):
        if formula.key not in values:
            return formula
        return values[formula.key] ^ int(not formula.high)
    if isinstance(formula, Joint):
        return _joint(formula.every, [_replaced(part, values) for part in formula.parts])
    return formula


def _groups(parts: tuple[Formula, ...]) -> list[tuple[Formula, ...]]:
    """The parts, in groups of those that share readings directly or over others."""
    groups: list[tuple[dict[Key, None], list[Formula]]] = []
    for part in parts:
        keys, members = dict.fromkeys(_senses(part)), [part]
        apart = []
        for group in groups:
            if keys.keys() & group[0].keys():
                keys = {**group[0], **keys}
                members = [*group[1], *members]
            else:
                apart.append(group)
        groups = [*apart, (keys, members)]
    return [tuple(members) for _, members in groups]
