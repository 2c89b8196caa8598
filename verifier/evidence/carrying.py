"""Formulas of a graph, put into a sweep."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.evidence.error import EvidenceError
from verifier.evidence.sweep import Sweep
from verifier.transition.graph import Graph


def carried(sweep: Sweep, graph: Graph, known: dict[int, int], literal: int) -> int:
    """The sweep's literal for one of a graph. known: of nodes; it is added to.

    Raises EvidenceError for variables that are not known.
    """
    stack = [literal >> 1]
    while stack:
        node = stack[-1]
        if node in known:
            stack.pop()
            continue
        a, b = _parts(graph, node)
        missing = [one for one in (a >> 1, b >> 1) if one not in known]
        if missing:
            stack += missing
            continue
        left, right = known[a >> 1], known[b >> 1]
        known[node] = sweep.both(-left if a & 1 else left, -right if b & 1 else right, search=False)
        stack.pop()
    found = known[literal >> 1]
    return -found if literal & 1 else found


class Wide:
    """Conjunctions of many that a graph has as trees, in the sweep's own form: so they have parts
    in common with other conjunctions of much the same things."""

    def __init__(self, sweep: Sweep, graph: Graph, known: dict[int, int]) -> None:
        self._sweep = sweep
        self._graph = graph
        self._known = known
        self._uses: Sequence[int] = _uses(graph)

    def literal(self, literal: int) -> int:
        """As `carried`."""
        known = self._known
        stack = [literal >> 1]
        while stack:
            node = stack[-1]
            if node in known:
                stack.pop()
                continue
            parts = self._parts(node)
            missing = sorted({part >> 1 for part in parts if part >> 1 not in known}, reverse=True)
            if missing:
                stack += missing
                continue
            told = [-known[part >> 1] if part & 1 else known[part >> 1] for part in parts]
            known[node] = self._sweep.all(told, search=False)
            stack.pop()
        found = known[literal >> 1]
        return -found if literal & 1 else found

    def _parts(self, node: int) -> list[int]:
        """What the node is the conjunction of, conjunctions that nothing else uses taken apart."""
        graph, uses = self._graph, self._uses
        stack, found = list(_parts(graph, node)), []
        while stack:
            literal = stack.pop()
            inner = literal >> 1
            if literal & 1 or uses[inner] != 1 or not graph.is_and(inner):
                found.append(literal)
            else:
                stack += graph.fanins[inner]
        return found


def _parts(graph: Graph, node: int) -> tuple[int, int]:
    a, b = graph.fanins[node]
    if a < 0:
        raise EvidenceError(f"{graph.names[node]!r} means nothing here")
    return a, b


def _uses(graph: Graph) -> list[int]:
    """How many conjunctions each node is a part of."""
    uses = [0] * len(graph.fanins)
    for a, b in graph.fanins:
        if a >= 0:
            uses[a >> 1] += 1
            uses[b >> 1] += 1
    return uses
