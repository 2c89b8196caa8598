"""Least fixpoints of reachability in closed form (rules P2 to P4, P6)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from heapq import heapify, heappop, heappush
from typing import NamedTuple

from verifier.transition.graph import FALSE, TRUE, Graph

Edges = Mapping[tuple[int, int], int]
"""(m, n): the literal under which what is true at m is true at n."""


class Step(NamedTuple):
    """A node as it was taken out of its net.

    into, onward: the nodes that were left next to it, with the literal under which they lead to it,
    or it leads there, directly or over nodes taken out before.
    """

    node: int
    base: int
    into: dict[int, int]
    onward: dict[int, int]


def reached(graph: Graph, base: Sequence[int], edges: Edges) -> list[int]:
    """The least solution of x[n] = base[n] or OR over m of (edges[m, n] and x[m]), as literals.

    Exact: nodes are eliminated one by one, cheapest first. Eliminating n puts its equation, whose
    star is true, into those of the others; afterwards every node is computed from its own
    equation, which speaks of nodes eliminated later only.
    """
    live = _touched(base, edges)
    values = [FALSE] * len(base)
    for step in reversed(list(_taken_out(_Net(graph, base, edges, live)))):
        terms = [graph.both(edge, values[start]) for start, edge in step.into.items()]
        values[step.node] = graph.any([step.base, *terms])
    return values


def eliminated(graph: Graph, edges: Edges) -> Iterator[Step]:
    """All nodes of a net without a base, in the order in which they are eliminated."""
    live = sorted({node for ends, edge in edges.items() if edge != FALSE for node in ends})
    return _taken_out(_Net(graph, [FALSE] * (max(live, default=-1) + 1), edges, live))


def _taken_out(net: _Net) -> Iterator[Step]:
    into, onward = net.into, net.onward
    queue = [(len(into[node]) * len(onward[node]), node) for node in into]
    heapify(queue)
    while queue:
        cost, node = heappop(queue)
        if node not in into or cost != len(into[node]) * len(onward[node]):
            continue  # the cost has changed since: there is another entry
        yield net.eliminate(node)
        for other in net.changed:
            heappush(queue, (len(into[other]) * len(onward[other]), other))


class _Net:
    """The nodes not yet eliminated. The cost of one is the number of edges that eliminating it
    makes, at most. An edge has a list of literals, any of which opens it.

    Invariants: `into[n][m]` is `onward[m][n]`; no node leads to itself; none leads to a node whose
    base is known to be true; a node that is not `live` is left out.
    changed: the nodes whose cost the last elimination may have changed.
    """

    def __init__(
        self, graph: Graph, base: Sequence[int], edges: Edges, live: Sequence[int]
    ) -> None:
        self.graph = graph
        self.base = [[literal] for literal in base]
        self.into: dict[int, dict[int, list[int]]] = {node: {} for node in live}
        self.onward: dict[int, dict[int, list[int]]] = {node: {} for node in live}
        for (start, end), edge in edges.items():
            if start in self.into and start != end and edge != FALSE and base[end] != TRUE:
                self.into[end][start] = self.onward[start][end] = [edge]
        self.changed: dict[int, None] = {}

    def eliminate(self, node: int) -> Step:
        """Takes the node out; what led over it leads past it."""
        graph, both = self.graph, self.graph.both
        base = graph.any(self.base[node])
        ways_in, ways_out = self.into.pop(node), self.onward.pop(node)
        self.changed = dict.fromkeys((*ways_in, *ways_out))
        into: dict[int, int] = {}
        for start, edges in ways_in.items():
            del self.onward[start][node]
            if base != TRUE:
                into[start] = edges[0] if len(edges) == 1 else graph.any(edges)
        onward: dict[int, int] = {}
        for end, edges in ways_out.items():
            ways = self.into[end]
            del ways[node]
            onward[end] = edge = edges[0] if len(edges) == 1 else graph.any(edges)
            if base != FALSE:
                constant = both(edge, base)
                self.base[end].append(constant)
                if constant == TRUE:
                    self._cut(end)
                    continue
            for start, first in into.items():
                if start != end:
                    literal = both(first, edge)
                    if literal == FALSE:
                        continue
                    known = ways.get(start)
                    if known is None:
                        ways[start] = self.onward[start][end] = [literal]
                    else:
                        known.append(literal)
        return Step(node, base, into, onward)

    def _cut(self, end: int) -> None:
        for start in self.into[end]:
            del self.onward[start][end]
            self.changed[start] = None
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
