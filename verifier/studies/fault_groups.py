"""Cut sets that are alike but for the numbers of the parts."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from verifier.report.faults import CutGroup, CutSet

_NUMBER = re.compile(r"(?<=[\[,])\s*(\d+)(?=\s*[\],])|(?<=_)(\d+)(?=\])")
_LETTERS = "ijklmnopqrstuvwxyz"
_HOLE = "\0"

Shape = tuple[str, ...]


def grouped(sets: Sequence[CutSet], considered: Sequence[str]) -> tuple[CutGroup, ...]:
    """Every set in one group, in the order of the first of each. considered: names of all faults
    that may strike."""
    by_pattern: dict[Shape, list[tuple[tuple[int, ...], int]]] = {}
    for member, one in enumerate(sets):
        pattern, values = _pattern(one.faults)
        by_pattern.setdefault(pattern, []).append((values, member))
    known = _by_shape(considered)
    return tuple(_group(pattern, found, known) for pattern, found in by_pattern.items())


def _group(
    pattern: Shape,
    found: Sequence[tuple[tuple[int, ...], int]],
    known: dict[str, list[tuple[int, ...]]],
) -> CutGroup:
    letters = _LETTERS[: len(found[0][0])]
    return CutGroup(
        pattern=_lettered(pattern),
        letters=tuple(letters),
        values=tuple(values for values, _ in found),
        every=bool(letters) and len(found) == _how_many(pattern, known),
        members=tuple(member for _, member in found),
    )


def _split(name: str) -> tuple[str, tuple[int, ...]]:
    """The name with holes for the numbers in brackets, and the numbers."""
    numbers = tuple(int(one.group()) for one in _NUMBER.finditer(name))
    return _NUMBER.sub(_HOLE, name), numbers


def _pattern(faults: Sequence[str]) -> tuple[Shape, tuple[int, ...]]:
    """Each name with a mark for each number that it has: which of the set's numbers, in order of
    their first mention. The same for all sets that differ in numbers only."""
    parts = sorted(_split(name) for name in faults)
    numbers: dict[int, int] = {}
    shapes = []
    for shape, values in parts:
        for value in values:
            numbers.setdefault(value, len(numbers))
            shape = shape.replace(_HOLE, f"{_HOLE}{numbers[value]}\1", 1)
            shape = shape.replace(f"{_HOLE}{numbers[value]}\1", f"\2{numbers[value]}\1", 1)
        shapes.append(shape)
    return tuple(shapes), tuple(numbers)


def _lettered(pattern: Shape) -> Shape:
    return tuple(
        re.sub("\2(\\d+)\1", lambda mark: _LETTERS[int(mark.group(1))], shape) for shape in pattern
    )


def _by_shape(considered: Sequence[str]) -> dict[str, list[tuple[int, ...]]]:
    found: dict[str, list[tuple[int, ...]]] = {}
    for name in considered:
        shape, numbers = _split(name)
        found.setdefault(shape, []).append(numbers)
    return found


def _how_many(pattern: Shape, known: dict[str, list[tuple[int, ...]]]) -> int:
    """How many sets of faults have the pattern: different letters stand for different numbers."""
    wanted = []
    for shape in pattern:
        places = tuple(int(mark) for mark in re.findall("\2(\\d+)\1", shape))
        wanted.append((re.sub("\2\\d+\1", _HOLE, shape), places))
    return len(set(_matches(wanted, known, {})))


def _matches(
    wanted: Sequence[tuple[str, tuple[int, ...]]],
    known: dict[str, list[tuple[int, ...]]],
    given: dict[int, int],
) -> Iterator[frozenset[tuple[str, tuple[int, ...]]]]:
    if not wanted:
        yield frozenset()
        return
    (shape, places), *rest = wanted
    for numbers in known[shape]:
        told = dict(given)
        if all(
            told.setdefault(k, value) == value for k, value in zip(places, numbers, strict=True)
        ) and len(set(told.values())) == len(told):
            for others in _matches(rest, known, told):
                yield others | {(shape, numbers)}
