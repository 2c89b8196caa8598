"""Conditions as formulas: in one reading, in some reading, in every reading (P5, M2, Q1)."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence

from msgspec import Struct

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
from verifier.second.air import Air
from verifier.second.formulas import FALSE, TRUE, Formula, Formulas
from verifier.second.variables import Facts

Plain = At | Hand | Setting | Path | AtRest
PlainTruth = Callable[[Plain], Formula]


class Read(Struct, frozen=True):
    """A reader reads its volume as high (`sign`) or as low."""

    reader: str
    volume: int
    sign: bool


class Fact(Struct, frozen=True):
    formula: Formula


class Group(Struct, frozen=True):
    """All of the parts (`every`), or one of them."""

    every: bool
    parts: tuple[Sketch, ...]


Sketch = Read | Fact | Group


def sketch(condition: Condition, truth: PlainTruth, positive: bool = True) -> Sketch:
    """The condition, or its opposite, with negation at readings only and the rest as facts."""
    if isinstance(condition, Always):
        return Fact(TRUE if condition.value == positive else FALSE)
    if isinstance(condition, Not):
        return sketch(condition.of, truth, not positive)
    if isinstance(condition, All | Any):
        every = isinstance(condition, All) == positive
        return Group(every, tuple(sketch(one, truth, positive) for one in condition.of))
    if isinstance(condition, High):
        return Read(condition.reader, condition.volume, positive)
    formula = truth(condition)
    return Fact(formula if positive else -formula)


def reads(thing: Sketch) -> Iterator[Read]:
    if isinstance(thing, Read):
        yield thing
    elif isinstance(thing, Group):
        for part in thing.parts:
            yield from reads(part)


def settle(formulas: Formulas, thing: Sketch, truth: Mapping[str, Formula]) -> Sketch:
    """With the readers that are in `truth` read so."""
    if isinstance(thing, Fact):
        return thing
    if isinstance(thing, Read):
        if thing.reader not in truth:
            return thing
        formula = truth[thing.reader]
        return Fact(formula if thing.sign else -formula)
    parts = [settle(formulas, part, truth) for part in thing.parts]
    facts = [part.formula for part in parts if isinstance(part, Fact)]
    others = tuple(part for part in parts if not isinstance(part, Fact))
    known = formulas.all_of(facts) if thing.every else formulas.any_of(facts)
    if not others or known == (FALSE if thing.every else TRUE):
        return Fact(known)
    return Group(thing.every, (Fact(known), *others))


def fact(formulas: Formulas, thing: Sketch, truth: Mapping[str, Formula]) -> Formula:
    """Its truth when `truth` has all its readers."""
    settled = settle(formulas, thing, truth)
    if not isinstance(settled, Fact):
        raise AssertionError("a reader without a reading")
    return settled.formula


def readings(
    formulas: Formulas, air: Air, readers: Mapping[str, int]
) -> Iterator[tuple[dict[str, Formula], Formula]]:
    """Every reading of some readers (each with its volume), and when the pressures allow it."""
    names = tuple(readers)
    for values in itertools.product((TRUE, FALSE), repeat=len(names)):
        truth = dict(zip(names, values, strict=True))
        able = [
            air.high[readers[name]] if value == TRUE else air.low[readers[name]]
            for name, value in truth.items()
        ]
        yield truth, formulas.all_of(able)


class Judge:
    """What conditions of properties and assumptions say of a state (Q1)."""

    def __init__(self, facts: Facts, air: Air, truth: PlainTruth) -> None:
        self.formulas = facts.formulas
        self.air = air
        self.truth = truth

    def some(self, condition: Condition) -> Formula:
        """True by some reading."""
        return self._some(settle(self.formulas, sketch(condition, self.truth), {}))

    def every(self, condition: Condition) -> Formula:
        """True by every reading."""
        return -self._some(settle(self.formulas, sketch(condition, self.truth, False), {}))

    def _some(self, thing: Sketch) -> Formula:
        if isinstance(thing, Fact):
            return thing.formula
        if isinstance(thing, Read):
            return (self.air.high if thing.sign else self.air.low)[thing.volume]
        if not thing.every:
            return self.formulas.any_of(self._some(part) for part in thing.parts)
        return self.formulas.all_of(self._together(group) for group in _apart(thing.parts))

    def _together(self, parts: Sequence[Sketch]) -> Formula:
        """All of the parts, which share readers, by some reading."""
        if len(parts) == 1:
            return self._some(parts[0])
        formulas, air = self.formulas, self.air
        found = list(itertools.chain.from_iterable(map(reads, parts)))
        whole = Group(True, tuple(parts))
        signs: dict[str, set[bool]] = {}
        for one in found:
            signs.setdefault(one.reader, set()).add(one.sign)
        # Where only one reading can help, it is taken wherever it can be had.
        helpful = {
            one.reader: air.high[one.volume] if one.sign else -air.low[one.volume]
            for one in found
            if len(signs[one.reader]) == 1
        }
        if helpful:
            return self._some(settle(formulas, whole, helpful))
        one = found[0]
        return formulas.any_of(
            formulas.both(able, self._some(settle(formulas, whole, truth)))
            for truth, able in readings(formulas, air, {one.reader: one.volume})
        )


def _apart(parts: Sequence[Sketch]) -> list[list[Sketch]]:
    """The parts in groups that share no reader."""
    groups: list[tuple[set[str], list[Sketch]]] = []
    for part in parts:
        names = {one.reader for one in reads(part)}
        touched = [group for group in groups if group[0] & names]
        groups = [group for group in groups if not group[0] & names]
        merged = names.union(*(group[0] for group in touched))
        groups.append((merged, [*(one for group in touched for one in group[1]), part]))
    return [group for _, group in groups]
