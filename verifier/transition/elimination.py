"""Least fixpoints of reachability in closed form (rules P2 to P4, P6)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heapify, heappop, heappush

from verifier.transition.graph import FALSE, TRUE, Graph

Edges = Mapping[tuple[int, int], int]
"""(m, n): the literal under which what is true at m is true at n."""


def reached(graph: Graph, base: Sequence[int], edges: Edges) -> list[int]:
    """The least solution of x[n] = base[n] or OR over m of (edges[m, n] and x[m]), as literals.

    Exact: nodes are eliminated one by one, cheapest first. Eliminating n puts its equation, whose
    star is true, into those of the others; afterwards every node is computed from its own
    equation, which speaks of nodes eliminated later only.
    """
    net = _Net(graph, base, edges)
    queue = [(net.cost(node), node) for node in net.into]
    heapify(queue)
    equations = []
    while queue:
        cost, node = heappop(queue)
        if node not in net.into or cost != net.cost(node):
            continue
        touched = [*net.into[node], *net.onward[node]]
        equations.append((node, *net.eliminate(node)))
        for other in touched:
            heappush(queue, (net.cost(other), other))
    values = [FALSE] * len(base)
    for node, constant, terms in reversed(equations):
        values[node] = graph.any(
            [constant, *(graph.both(edge, values[start]) for start, edge in terms)]
        )
    return values


class _Net:
    """The nodes not yet eliminated.

    Invariants: `n in onward[m]` iff `m in into[n]`; no node leads to itself; none leads to a node
    whose base is true; a node that no base can reach is left out, for it is false.
    """

    def __init__(self, graph: Graph, base: Sequence[int], edges: Edges) -> None:
        self.graph = graph
        self.base = list(base)
        live = _touched(base, edges)
        self.into: dict[int, dict[int, int]] = {node: {} for node in live}
        self.onward: dict[int, dict[int, None]] = {node: {} for node in live}
        for (start, end), edge in edges.items():
            if start in self.into and start != end and edge != FALSE and base[end] != TRUE:
                self.into[end][start] = edge
                self.onward[start][end] = None

    def cost(self, node: int) -> int:
        """The number of edges that eliminating the node makes, at most."""
        return len(self.into[node]) * len(self.onward[node])

    def eliminate(self, node: int) -> tuple[int, list[tuple[int, int]]]:
        """Takes the node out; its equation over the nodes that are left: base, then (m, edge)s."""
        graph, constant = self.graph, self.base[node]
        terms = list(self.into.pop(node).items())
        for start, _ in terms:
            del self.onward[start][node]
        for end in self.onward.pop(node):
            edge = self.into[end].pop(node)
            self.base[end] = graph.either(self.base[end], graph.both(edge, constant))
            if self.base[end] == TRUE:
                self._cut(end)
                continue
            for start, first in terms:
                if start != end:
                    self._join(start, end, graph.both(first, edge))
        return constant, terms

    def _join(self, start: int, end: int, edge: int) -> None:
        if edge != FALSE:
            old = self.into[end].get(start, FALSE)
            self.into[end][start] = self.graph.either(old, edge)
            self.onward[start][end] = None

    def _cut(self, end: int) -> None:
        for start in self.into[end]:
            del self.onward[start][end]
        self.into[end].clear()


def _touched(base: Sequence[int], edges: Edges) -> list[int]:
    """The nodes that a base could reach if every edge that is not false were there, ascending."""
    onward: dict[int, list[int]] = {}
    for (start, end), edge in edges.items():
        if edge != FALSE:
            onward.setdefault(start, []).append(end)
    waiting = [node for node, literal in enumerate(base) if literal != FALSE]
    found = set(waiting)
    while waiting:
        for end in onward.get(waiting.pop(), ()):
            if end not in found:
                found.add(end)
                waiting.append(end)
    return sorted(found)
