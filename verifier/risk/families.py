"""Families of cut sets: the minimal ones, those that share no fault, orders for diagrams."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

CutSet = frozenset[str]
"""Names of faults all of which together are enough."""


def minimal(sets: Iterable[Iterable[str]]) -> tuple[CutSet, ...]:
    """Those of which no other is a part, each once, by size and then by name."""
    waiting = sorted({frozenset(one) for one in sets}, key=_by_size)
    times = Counter(fault for one in waiting for fault in one)
    rarity = {fault: k for k, fault in enumerate(sorted(times, key=lambda f: (times[f], f)))}
    kept: list[CutSet] = []
    known = _Known()
    for one in waiting:
        names = sorted(one, key=rarity.__getitem__)
        if not known.part_of(names):
            kept.append(one)
            known.add(names)
    return tuple(kept)


class _Known:
    """Sets by what they have in common from their rarest names on."""

    def __init__(self) -> None:
        self._after: dict[str, _Known] = {}
        self._ends = False

    def add(self, names: Sequence[str]) -> None:
        here = self
        for name in names:
            here = here._after.setdefault(name, _Known())
        here._ends = True

    def part_of(self, names: Sequence[str], first: int = 0) -> bool:
        """Whether all names of some set are among these."""
        if self._ends:
            return True
        return any(
            name in self._after and self._after[name].part_of(names, k + 1)
            for k, name in enumerate(names[first:], first)
        )


def faults_of(sets: Iterable[CutSet]) -> tuple[str, ...]:
    """All names that occur, in alphabetical order."""
    return tuple(sorted({fault for one in sets for fault in one}))


def apart(sets: Sequence[CutSet]) -> list[list[CutSet]]:
    """Groups that share no fault with each other, in the order of their first sets."""
    leader: dict[str, str] = {}

    def lead(name: str) -> str:
        while leader.setdefault(name, name) != name:
            leader[name] = leader[leader[name]]
            name = leader[name]
        return name

    if any(not one for one in sets):
        return [list(sets)]
    for one in sets:
        first, *others = sorted(one)
        for other in others:
            leader[lead(other)] = lead(first)
    groups: dict[str, list[CutSet]] = {}
    for one in sets:
        groups.setdefault(lead(min(one)), []).append(one)
    return list(groups.values())


def ordered(sets: Sequence[CutSet]) -> list[str]:
    """The names in an order that makes a small diagram: those of most sets first."""
    times = Counter(fault for one in sets for fault in one)
    return sorted(times, key=lambda fault: (-times[fault], fault))


def _by_size(one: CutSet) -> tuple[int, list[str]]:
    return len(one), sorted(one)
