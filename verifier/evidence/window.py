"""The question whether two formulas differ, about the part of them that lies nearest."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heapify, heappop, heappush

_TRUE = 1


class Window:
    """Clauses that can be true together if `a` and `b` may differ, given what lies below.

    Nodes are taken from the top, at most `most` of them. Below are those that are left, and, unless
    `past_shared`, those that both have as parts: anything may be true of these. So a contradiction
    shows that both are equal; its absence shows that they are not only if nothing but variables is
    below (`whole`).
    numbers: the clauses' variable of each node.
    """

    def __init__(
        self, parts: Sequence[tuple[int, int]], a: int, b: int, most: int, past_shared: bool
    ) -> None:
        sides = {abs(a): 1}
        sides[abs(b)] = sides.get(abs(b), 0) | 2
        self.numbers = numbers = {node: k for k, node in enumerate(sides, 1)}
        self.whole = True
        heap = [-node for node in sides]
        heapify(heap)
        left, right = (numbers[abs(n)] if n > 0 else -numbers[abs(n)] for n in (a, b))
        self.clauses: list[tuple[int, ...]] = [(left, right), (-left, -right)]
        clauses = self.clauses
        taken = 0
        # A node's parts are smaller, so all that have it as a part were taken before it.
        while heap:
            node = -heappop(heap)
            own, side, (first, second) = numbers[node], sides[node], parts[node]
            if node == _TRUE:
                clauses.append((own,))
            if not first:
                continue
            if taken == most or (side == 3 and not past_shared):
                self.whole = False
                continue
            taken += 1
            for part in (first, second):
                under = abs(part)
                if under not in sides:
                    sides[under] = side
                    numbers[under] = len(numbers) + 1
                    heappush(heap, -under)
                else:
                    sides[under] |= side
            left = numbers[first] if first > 0 else -numbers[-first]
            right = numbers[second] if second > 0 else -numbers[-second]
            clauses += ((-own, left), (-own, right), (own, -left, -right))
