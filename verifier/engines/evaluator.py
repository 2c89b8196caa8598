"""Truth of the nodes of a graph, kept up to date as its inputs change."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from heapq import heappop, heappush

from verifier.transition.graph import Graph


class Evaluator:
    """The cones of some literals under a valuation of the inputs, all of them false at first.

    A change costs what it changes, not the size of the cone: little happens at a step of a run.
    """

    def __init__(self, graph: Graph) -> None:
        self._graph = graph
        self._truth: dict[int, bool] = {0: False}
        self._readers: dict[int, list[int]] = {}
        self._inputs: dict[int, bool] = {}

    def follow(self, roots: Iterable[int]) -> None:
        """Have the truth of these literals at hand from now on."""
        fanins, truth, readers = self._graph.fanins, self._truth, self._readers
        for node in self._unknown(roots):
            a, b = fanins[node]
            if a < 0:
                truth[node] = self._inputs.get(node, False)
                continue
            truth[node] = truth[a >> 1] ^ bool(a & 1) and truth[b >> 1] ^ bool(b & 1)
            readers.setdefault(a >> 1, []).append(node)
            readers.setdefault(b >> 1, []).append(node)

    def put(self, values: Mapping[int, bool]) -> None:
        """Give inputs (nodes) these values; the others keep theirs."""
        self._inputs.update(values)
        truth = self._truth
        changed = [node for node, value in values.items() if truth.get(node, value) != value]
        for node in changed:
            truth[node] = not truth[node]
        self._spread(changed)

    def true(self, literal: int) -> bool:
        """Truth of a literal, followed or not."""
        node = literal >> 1
        if node not in self._truth:
            self.follow([literal])
        return self._truth[node] ^ bool(literal & 1)

    def _spread(self, changed: Iterable[int]) -> None:
        truth, readers, fanins = self._truth, self._readers, self._graph.fanins
        waiting: list[int] = []
        queued: set[int] = set()
        at: int | None = None
        stack = list(changed)
        while True:
            for node in stack:
                for reader in readers.get(node, ()):
                    if reader not in queued:
                        queued.add(reader)
                        heappush(waiting, reader)
            if not waiting:
                return
            at = heappop(waiting)
            a, b = fanins[at]
            value = truth[a >> 1] ^ bool(a & 1) and truth[b >> 1] ^ bool(b & 1)
            stack = [at] if value != truth[at] else []
            truth[at] = value

    def _unknown(self, roots: Iterable[int]) -> list[int]:
        """Nodes of the cones that are not followed yet, ascending."""
        fanins, truth = self._graph.fanins, self._truth
        seen: set[int] = set()
        stack = [root >> 1 for root in roots]
        while stack:
            node = stack.pop()
            if node in seen or node in truth:
                continue
            seen.add(node)
            a, b = fanins[node]
            if a >= 0:
                stack += (a >> 1, b >> 1)
        return sorted(seen)
