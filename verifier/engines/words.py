"""Truth of some literals of a graph in many cases at once, worked out again and again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from verifier.transition.graph import Graph


class Words:
    """The cones of `roots`. Bit k of a word is a literal's truth in case k."""

    def __init__(self, graph: Graph, roots: Iterable[int], width: int) -> None:
        self._roots = tuple(roots)
        self._full = (1 << width) - 1
        # Cones are worked out literal by literal, since that needs no test of signs.
        nodes = graph.cone(self._roots)
        fanins = graph.fanins
        self._gates = [(2 * node, *fanins[node]) for node in nodes if fanins[node][0] >= 0]
        self._inputs = [node for node in nodes if node and fanins[node][0] < 0]
        self._words = [0] * (2 * (nodes[-1] if nodes else 0) + 2)
        self._words[1] = self._full

    def of(self, values: Mapping[int, int]) -> list[int]:
        """The words of the roots, where input node n has the word `values[n]`; absent inputs are
        false in every case."""
        words, full = self._words, self._full
        for node in self._inputs:
            word = values.get(node, 0)
            words[2 * node], words[2 * node + 1] = word, word ^ full
        for at, a, b in self._gates:
            word = words[a] & words[b]
            words[at] = word
            words[at + 1] = word ^ full
        return [words[root] for root in self._roots]
