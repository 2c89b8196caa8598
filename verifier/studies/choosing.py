"""Which trials and looks are enough: exactly where that is possible, else greedily."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeVar

from verifier.solving.cheapest import cheapest

RISK = 100
Name = TypeVar("Name")
MOST_EXACT = 40_000
"""Members of all sets together, up to which the best choice is sought."""


def chosen_trials(
    reveals: Sequence[frozenset[int]], before: Sequence[int | None], risky: Sequence[bool]
) -> tuple[list[int], bool]:
    """Numbers of trials, each with those that lead to it, that reveal all that any reveals: as few
    risky ones as can be, and then as few as can be; and whether they are the fewest."""
    wanted = frozenset().union(*reveals) if reveals else frozenset()
    if sum(map(len, reveals)) > MOST_EXACT:
        return greedy_trials(reveals, before), False
    clauses: list[list[int]] = []
    for trial, first in enumerate(before):
        if first is not None:
            clauses.append([-(trial + 1), first + 1])
    by_trials = {
        tuple(k + 1 for k, some in enumerate(reveals) if lane in some) for lane in sorted(wanted)
    }
    clauses += [list(one) for one in sorted(by_trials)]
    costs = {k + 1: RISK if risk else 1 for k, risk in enumerate(risky)}
    found = cheapest(clauses, costs)
    return sorted(one - 1 for one in found or ()), True


def greedy_trials(reveals: Sequence[frozenset[int]], before: Sequence[int | None]) -> list[int]:
    """Again and again the trial that reveals most for each one that it needs."""
    left = set().union(*reveals) if reveals else set()
    taken: set[int] = set()
    while left:
        best, gain = -1, 0.0
        for trial, some in enumerate(reveals):
            need = [one for one in _needed(trial, before) if one not in taken]
            new = set(some).union(*(reveals[one] for one in need)) & left
            if new and len(new) / max(1, len(need)) > gain:
                best, gain = trial, len(new) / max(1, len(need))
        for one in _needed(best, before):
            taken.add(one)
            left -= reveals[one]
    return sorted(taken)


def _needed(trial: int, before: Sequence[int | None]) -> list[int]:
    found = []
    here: int | None = trial
    while here is not None:
        found.append(here)
        here = before[here]
    return found


def fewest(sets: Mapping[Name, frozenset[int]]) -> tuple[list[Name], bool]:
    """Fewest of the sets that have all members; and whether they are."""
    wanted = frozenset().union(*sets.values()) if sets else frozenset()
    names = [name for name, members in sets.items() if members]
    if sum(len(members) for members in sets.values()) > MOST_EXACT:
        return _greedily(sets, wanted), False
    by_sets = {
        tuple(k + 1 for k, name in enumerate(names) if member in sets[name])
        for member in sorted(wanted)
    }
    found = cheapest([list(one) for one in sorted(by_sets)], {k + 1: 1 for k in range(len(names))})
    return [names[one - 1] for one in sorted(found or ())], True


def _greedily(sets: Mapping[Name, frozenset[int]], wanted: frozenset[int]) -> list[Name]:
    left = set(wanted)
    taken: list[Name] = []
    while left:
        best = max(sets, key=lambda name: len(sets[name] & left))
        taken.append(best)
        left -= sets[best]
    return [name for name in sets if name in taken]
