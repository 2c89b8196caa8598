"""What spreads over a graph from seeds: least fixpoints, found by going round from nothing (P6)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from verifier.second.blocks import Block, Blocks
from verifier.second.formulas import FALSE, Formula, Formulas
from verifier.second.links import Link, Ways, blocks_with, turned, unravelled

Solution = dict[int, Formula]


class Region:
    """Nodes among which something spreads, and the links that lead to, from and between them.

    Other nodes that links lead to keep the seeds that they have.
    """

    def __init__(self, formulas: Formulas, links: Sequence[Link], nodes: Sequence[int]) -> None:
        inside = frozenset(nodes)
        self._nodes = tuple(nodes)
        near = [link for link in links if link.start in inside or link.end in inside]
        moved, self._copies = unravelled(near, nodes)
        every = [copy for node in nodes for copy in self._copies.get(node, (node,))]
        self._original = {copy: node for node in nodes for copy in self._copies.get(node, (node,))}
        self._formulas = formulas
        self._blocks = blocks_with(moved, every)
        self._forth = Ways(formulas, moved)
        self._back = Ways(formulas, turned(moved))

    def forth(self, seeds: Mapping[int, Formula], through: Mapping[int, Formula]) -> Solution:
        """Least solution of: x(v) = seed(v) or (through(v) and, by an open link from u, x(u)).

        A node without `through` lets everything through.
        """
        return self._spread(self._forth, seeds, through)

    def back(self, seeds: Mapping[int, Formula], through: Mapping[int, Formula]) -> Solution:
        """The same, with every link taken in the opposite direction."""
        return self._spread(self._back, seeds, through)

    def _spread(
        self, ways: Ways, seeds: Mapping[int, Formula], through: Mapping[int, Formula]
    ) -> Solution:
        here = {**seeds, **{c: seeds.get(node, FALSE) for c, node in self._original.items()}}
        gates = {c: through[node] for c, node in self._original.items() if node in through}
        found = _Spread(self._formulas, ways, self._blocks, here, gates).solved()
        # Numbers of copies may be those of nodes elsewhere.
        return {
            node: self._formulas.any_of(found[copy] for copy in self._copies.get(node, (node,)))
            for node in self._nodes
        }


class _Spread:
    """Goes through the blocks twice: what comes to each entry from the blocks that hang there, then
    what comes from the entries to everything."""

    def __init__(
        self,
        formulas: Formulas,
        ways: Ways,
        blocks: Blocks,
        seeds: Mapping[int, Formula],
        through: Mapping[int, Formula],
    ) -> None:
        self.formulas = formulas
        self.ways = ways
        self.blocks = blocks
        self.seeds = seeds
        self.through = through
        nodes = [*blocks.roots, *(node for block in blocks.blocks for node in block.members)]
        self.nodes = frozenset(nodes)
        self.arrivals = {node: self._from_outside(node) for node in nodes}

    def _from_outside(self, node: int) -> list[Formula]:
        return [
            self.formulas.both(opened, self.seeds.get(other, FALSE))
            for other, opened in self.ways.into.get(node, {}).items()
            if other not in self.nodes
        ]

    def solved(self) -> Solution:
        formulas, arrivals = self.formulas, self.arrivals
        for block in self.blocks.blocks:
            local = self._rounds(block)
            ways = self.ways.into.get(block.entry, {})
            arrivals[block.entry] += [
                formulas.both(ways[node], local[node]) for node in block.members if node in ways
            ]
        solution = {root: self._at(root, arrivals[root]) for root in self.blocks.roots}
        for block in reversed(self.blocks.blocks):
            for node in block.members:
                opened = self.ways.of(block.entry, node)
                arrivals[node].append(formulas.both(opened, solution[block.entry]))
            solution.update(self._rounds(block))
        return solution

    def _at(self, node: int, arriving: Sequence[Formula]) -> Formula:
        formulas = self.formulas
        came = formulas.any_of(arriving)
        if node in self.through:
            came = formulas.both(self.through[node], came)
        return formulas.either(self.seeds.get(node, FALSE), came)

    def _rounds(self, block: Block) -> Solution:
        """The block's members, given what arrives at them; its entry takes no part.

        A way that repeats no node has fewer steps than there are members.
        """
        formulas, members = self.formulas, block.members
        if len(members) == 1:
            return {members[0]: self._at(members[0], self.arrivals[members[0]])}
        found = dict.fromkeys(members, FALSE)
        inner = {
            node: [(u, way) for u, way in self.ways.into.get(node, {}).items() if u in found]
            for node in members
        }
        stale = list(members)
        for _ in members:
            fresh = {
                node: self._at(
                    node,
                    [
                        *self.arrivals[node],
                        *(formulas.both(opened, found[u]) for u, opened in inner[node]),
                    ],
                )
                for node in stale
            }
            changed = {node for node, value in fresh.items() if value != found[node]}
            found.update(fresh)
            stale = [node for node in members if any(u in changed for u, _ in inner[node])]
            if not stale:
                break
        return found
