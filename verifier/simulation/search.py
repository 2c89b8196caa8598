"""Cheapest paths by uniform-cost search: fewest steps, then fewest of what else counts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from heapq import heappop, heappush
from typing import Generic, TypeVar

Node = TypeVar("Node")
Cost = tuple[int, int, int, int]
"""(steps, events of operator and surroundings, those of the surroundings, elements that moved and
leaks), smaller first (Q10)."""
Edge = tuple[Node, Cost, object]
"""Where it leads, what it adds, and a label to tell the path by."""


class Search(Generic[Node]):
    """All nodes reachable, in order of cost, until the goal, the end or the limit.

    `came[node]` is (node before, label), None for a start. `complete`: nothing was left out.
    `goal` is the first node in order of cost that meets the goal, if one was given and met.
    """

    def __init__(
        self,
        starts: Iterable[Node],
        edges: Callable[[Node], Iterable[Edge[Node]]],
        limit: int,
        goal: Callable[[Node], bool] | None = None,
    ) -> None:
        self.cost: dict[Node, Cost] = {}
        self.came: dict[Node, tuple[Node, object] | None] = {}
        self.order: list[Node] = []
        self.complete = True
        self.goal: Node | None = None
        best: dict[Node, Cost] = {}
        # The counter makes ties independent of what nodes are.
        queue: list[tuple[Cost, int, Node]] = []
        for count, node in enumerate(starts):
            best[node], self.came[node] = (0, 0, 0, 0), None
            heappush(queue, ((0, 0, 0, 0), count, node))
        count = len(queue)
        while queue:
            cost, _, node = heappop(queue)
            if node in self.cost:
                continue
            if len(self.order) >= limit:
                self.complete = False
                return
            self.cost[node] = cost
            self.order.append(node)
            if goal is not None and goal(node):
                self.goal = node
                return
            for there, (steps, events, around, moves), label in edges(node):
                total = (cost[0] + steps, cost[1] + events, cost[2] + around, cost[3] + moves)
                if there not in best or total < best[there]:
                    best[there], self.came[there] = total, (node, label)
                    count += 1
                    heappush(queue, (total, count, there))

    def path(self, node: Node) -> tuple[Node, tuple[tuple[Node, object], ...]]:
        """The start, and (node, label of the edge that led to it) from there to `node`."""
        found = list(self._back(node))
        return found[-1][0], tuple((node, label) for node, label in reversed(found[:-1]))

    def _back(self, node: Node) -> Iterator[tuple[Node, object]]:
        while (before := self.came[node]) is not None:
            yield node, before[1]
            node = before[0]
        yield node, None
