"""The order of parallel lines in a corridor or an aisle: few crossings, then few tracks."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from msgspec import Struct

ROUNDS = 8


class Run(Struct, frozen=True, gc=False):
    """A stretch along the corridor that a line needs; two that meet need tracks of their own."""

    first: int
    last: int

    def meets(self, other: Run, room: int) -> bool:
        return self.first < other.last + room and other.first < self.last + room


def tracks(
    runs: list[Run], crossings: Callable[[int, int], int], prefer: list[float], room: int
) -> list[int]:
    """A track for each run, from 0.

    crossings(a, b): how many crossings there are if run a has a lower track than run b.
    prefer: where each would like to be, low or high, as a first guess.
    """
    meets = [
        [a != b and one.meets(other, room) for b, other in enumerate(runs)]
        for a, one in enumerate(runs)
    ]

    @cache
    def cost(a: int, b: int) -> int:
        return crossings(a, b) if meets[a][b] else 0

    order = sorted(range(len(runs)), key=lambda k: (prefer[k], k))
    for _ in range(ROUNDS):
        before = list(order)
        for one in range(len(runs)):
            order = _sifted(order, one, cost)
        if order == before:
            break
    found = [0] * len(runs)
    done: list[int] = []
    for one in order:
        found[one] = max((found[other] + 1 for other in done if meets[one][other]), default=0)
        done.append(one)
    return found


def _sifted(order: list[int], one: int, cost: Callable[[int, int], int]) -> list[int]:
    """`order` with `one` where it costs least; where it was, if nowhere is better."""
    rest = [other for other in order if other != one]
    was = order.index(one)
    total = sum(cost(one, other) for other in rest)
    costs = [total]
    for other in rest:
        total += cost(other, one) - cost(one, other)
        costs.append(total)
    best = min(costs)
    where = was if costs[was] == best else costs.index(best)
    return [*rest[:where], one, *rest[where:]]
