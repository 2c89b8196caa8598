"""Open paths between any two nodes of one net, all found from one elimination (Q1)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from verifier.transition.elimination import Edges, eliminated
from verifier.transition.graph import FALSE, TRUE, Graph

Label = Mapping[int, int]
"""Literal under which a node leads to (or is led to from) a node of higher rank."""


class _Order(NamedTuple):
    """Nodes are ranked in the order of their elimination.

    onward[n], into[n]: the nodes of higher rank next to n when it was eliminated, with the literal
    under which n leads there, or they lead to n, over nodes of lower rank alone.
    """

    rank: dict[int, int]
    onward: dict[int, dict[int, int]]
    into: dict[int, dict[int, int]]


class Paths:
    """Literals of "an open path leads from one node to another".

    A path has one node of highest rank, its top. What leads up to the top from the start, and down
    from it to the end, passes lower nodes only; so the label of the start and that of the end, each
    with an entry for every top that there can be, give the path. Labels are made once a node, and
    are short where the net is made of branches at a few headers.
    """

    def __init__(self, graph: Graph, edges: Edges) -> None:
        self._graph = graph
        self._edges = edges
        self._order: _Order | None = None
        self._up: dict[int, Label] = {}
        self._down: dict[int, Label] = {}

    def on(self, graph: Graph) -> Paths:
        """The same to be built on with a copy of the graph."""
        other = Paths(graph, self._edges)
        other._order = self._order
        other._up, other._down = self._up.copy(), self._down.copy()
        return other

    def open(self, start: int, end: int) -> int:
        """Some path from `start` to `end` is open; always if they are one."""
        if start == end:
            return TRUE
        order = self._order or self._ranked()
        if start not in order.rank or end not in order.rank:
            return FALSE
        up = self._up.get(start)
        if up is None:
            up = self._up[start] = self._label(start, order.rank, order.onward)
        down = self._down.get(end)
        if down is None:
            down = self._down[end] = self._label(end, order.rank, order.into)
        both = self._graph.both
        return self._graph.any([both(up[top], down[top]) for top in up if top in down])

    def _ranked(self) -> _Order:
        order = _Order({}, {}, {})
        for step in eliminated(self._graph, self._edges):
            order.rank[step.node] = len(order.rank)
            order.onward[step.node] = step.onward
            order.into[step.node] = step.into
        self._order = order
        return order

    def _label(
        self, start: int, rank: Mapping[int, int], higher: Mapping[int, Label]
    ) -> dict[int, int]:
        """The nodes above `start` in order of rank, with the literal of the way there over nodes of
        lower rank than theirs: by the highest of these, and on from it over lower ones."""
        graph = self._graph
        waiting: dict[int, list[int]] = {start: [TRUE]}
        label: dict[int, int] = {}
        while waiting:
            node = min(waiting, key=rank.__getitem__)
            literal = graph.any(waiting.pop(node))
            if literal == FALSE:
                continue
            label[node] = literal
            for above, edge in higher[node].items():
                waiting.setdefault(above, []).append(graph.both(literal, edge))
        return label
