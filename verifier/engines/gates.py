"""A part of a graph worked out in many cases at once, again and again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from verifier.transition.graph import Graph


class Cases:
    """The cone of some roots. Bit k of a word is a truth in case k; a word may be negative, as all
    bits from some on are then true.
    """

    def __init__(self, graph: Graph, roots: Sequence[int]) -> None:
        cone = graph.cone(roots)
        fanins = graph.fanins
        self.inputs = tuple(node for node in cone if node and fanins[node][0] < 0)
        self._gates = [
            (node, a >> 1, -(a & 1), b >> 1, -(b & 1))
            for node, (a, b) in ((node, fanins[node]) for node in cone)
            if a >= 0
        ]
        self._words = [0] * len(fanins)

    def put(self, values: Mapping[int, int]) -> None:
        """Words of inputs by node; those not named are false."""
        words = self._words
        for node in self.inputs:
            words[node] = values.get(node, 0)
        for node, a, not_a, b, not_b in self._gates:
            words[node] = (words[a] ^ not_a) & (words[b] ^ not_b)

    def word(self, literal: int) -> int:
        """The word of a literal in the cone."""
        return self._words[literal >> 1] ^ -(literal & 1)


def ones(word: int) -> Iterator[int]:
    """Numbers of the bits that are true, ascending; the word is not negative."""
    while word:
        low = word & -word
        yield low.bit_length() - 1
        word ^= low
