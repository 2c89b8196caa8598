"""Blocks of a graph: what a way can pass without coming through one node twice.

A block is a largest set of nodes that hangs together even when any one of them is taken away; two
nodes joined by a bridge are one. Blocks that share a node share only that. A way that repeats no
node passes each block once, so what spreads over a graph can be told block by block.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct


class Block(Struct, frozen=True):
    """entry: the node by which the block hangs on those that come after it.
    members: its other nodes, ascending."""

    entry: int
    members: tuple[int, ...]


class Blocks(Struct, frozen=True):
    """blocks: those that hang on a member of another block come before it.
    roots: one node of each piece of the graph; a node alone is a piece."""

    blocks: tuple[Block, ...]
    roots: tuple[int, ...]


def blocks_of(nodes: Iterable[int], neighbours: Mapping[int, Iterable[int]]) -> Blocks:
    """The blocks of a graph without directions. Every neighbour must be one of the nodes."""
    search = _Search(neighbours)
    roots = [node for node in nodes if search.visit(node)]
    return Blocks(tuple(search.found), tuple(roots))


class _Search:
    """Depth-first search: a node from below which nothing leads back above its parent closes a
    block, entered by that parent."""

    def __init__(self, neighbours: Mapping[int, Iterable[int]]) -> None:
        self._neighbours = neighbours
        self._number: dict[int, int] = {}
        self._low: dict[int, int] = {}
        self._open: list[int] = []
        self.found: list[Block] = []

    def visit(self, root: int) -> bool:
        """Search from a node; False if an earlier search came there."""
        if root in self._number:
            return False
        self._enter(root)
        way = [(root, root, iter(self._neighbours.get(root, ())))]
        while way:
            node, parent, rest = way[-1]
            following = next(rest, None)
            if following is None:
                way.pop()
                if way:
                    self._leave(node, parent)
            elif following not in self._number:
                self._enter(following)
                way.append((following, node, iter(self._neighbours.get(following, ()))))
            elif following != parent:
                self._low[node] = min(self._low[node], self._number[following])
        self._open.clear()
        return True

    def _enter(self, node: int) -> None:
        self._number[node] = self._low[node] = len(self._number)
        self._open.append(node)

    def _leave(self, node: int, parent: int) -> None:
        if self._low[node] < self._number[parent]:
            self._low[parent] = min(self._low[parent], self._low[node])
            return
        members = [self._open.pop()]
        while members[-1] != node:
            members.append(self._open.pop())
        self.found.append(Block(parent, tuple(sorted(members))))
