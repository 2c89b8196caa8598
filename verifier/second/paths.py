"""Open paths of liquid and vapour between places."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from verifier.model.condition import Path
from verifier.second.blocks import Block
from verifier.second.formulas import FALSE, TRUE, Formula, Formulas
from verifier.second.links import Link, Ways, blocks_with
from verifier.second.variables import Facts

# A block is crossed by way of hubs if so few of them leave no more than so many places together.
_MOST_HUBS = 12
_FEW = 16

Reached = dict[int, Formula]


class AllPaths:
    """The paths of a circuit, each network looked at when it is first spoken of."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._known: dict[tuple[int, bool], Paths] = {}
        self.spoken_of: dict[Path, Formula] = {}

    def open(self, path: Path) -> Formula:
        if path not in self.spoken_of:
            key = path.network, path.directed
            if key not in self._known:
                self._known[key] = Paths(self._facts, *key)
            self.spoken_of[path] = self._known[key].between(path.start, path.end)
        return self.spoken_of[path]


class Paths:
    """One network, its paths taken in the direction of one-way parts only, or in any."""

    def __init__(self, facts: Facts, network: int, directed: bool) -> None:
        thing = facts.circuit.networks[network]
        links = [
            Link(way.start, way.end, directed and way.one_way, way.where, facts.met(way.where))
            for way in thing.ways
        ]
        self.formulas = facts.formulas
        self.ways = Ways(facts.formulas, links)
        found = blocks_with(links, range(len(thing.places)))
        self._above = {node: block for block in found.blocks for node in block.members}
        self._inside: dict[Block, Inside] = {}

    def between(self, start: int, end: int) -> Formula:
        """Whether an open path leads there. It passes the blocks between both, each once."""
        if start == end:
            return TRUE
        up, down = self._climb(start), self._climb(end)
        while len(up) > 1 and len(down) > 1 and up[-2] == down[-2]:
            up.pop()
            down.pop()
        if up[-1] != down[-1]:
            return FALSE
        if len(up) > 1 and len(down) > 1 and self._above[up[-2]] == self._above[down[-2]]:
            # Both come to the top by one block: the path need not go through its entry.
            up[-1:] = [down[-2]]
            del down[-1]
        legs = [self._leg(self._above[a], a, b) for a, b in itertools.pairwise(up)]
        legs += [self._leg(self._above[a], b, a) for a, b in itertools.pairwise(down)]
        return self.formulas.all_of(legs)

    def _climb(self, node: int) -> list[int]:
        """The node and the entries of the blocks above it."""
        way = [node]
        while way[-1] in self._above:
            way.append(self._above[way[-1]].entry)
        return way

    def _leg(self, block: Block, start: int, end: int) -> Formula:
        """Whether an open path leads from one node of a block to another, inside the block."""
        if len(block.members) == 1:
            return self.ways.of(start, end)
        if block not in self._inside:
            self._inside[block] = Inside(self.formulas, self.ways, block)
        return self._inside[block].between(start, end)


class Inside:
    """Paths inside one block. Hubs are nodes without which it falls into small pieces (headers that
    many tanks are piped to); a path goes through a piece, then from hub to hub, then through a
    piece. Without such hubs, the block is one piece.
    """

    def __init__(self, formulas: Formulas, ways: Ways, block: Block) -> None:
        self._formulas = formulas
        self._ways = ways
        nodes = (block.entry, *block.members)
        within = frozenset(nodes)
        joined: dict[int, set[int]] = {node: set() for node in nodes}
        for node in nodes:
            for other in ways.into.get(node, {}):
                if other in within:
                    joined[node].add(other)
                    joined[other].add(node)
        self._joined = joined
        self._hubs, pieces = _hubs(joined)
        self._piece = {node: piece for piece in pieces for node in piece}
        self._near: dict[int, Reached] = {}
        self._far: dict[int, Reached] = {}
        self._direct = {
            start: {end: self._hop(start, end) for end in self._hubs if end != start}
            for start in self._hubs
        }

    def between(self, start: int, end: int) -> Formula:
        formulas, arriving = self._formulas, self._arriving(end)
        found = [formulas.both(when, arriving[hub]) for hub, when in self._hubs_from(start).items()]
        if start not in self._direct and end not in self._direct:
            found.append(self._from(start).get(end, FALSE))
        return formulas.any_of(found)

    def _from(self, start: int) -> Reached:
        """Where paths lead to from a node inside its piece."""
        if start not in self._near:
            piece = self._piece[start]
            steps = {n: {u: self._ways.of(u, n) for u in self._joined[n]} for n in piece}
            self._near[start] = self._rounds(start, piece, steps)
        return self._near[start]

    def _hubs_from(self, start: int) -> Reached:
        """Which hubs paths lead to from a node."""
        if start not in self._far:
            formulas, steps = self._formulas, self._direct
            if start in steps:
                into = {n: {u: steps[u][n] for u in steps if u != n} for n in steps}
                self._far[start] = self._rounds(start, self._hubs, into)
            else:
                first = self._leaving(start)
                self._far[start] = {
                    hub: formulas.any_of(
                        formulas.both(when, self._hubs_from(other)[hub])
                        for other, when in first.items()
                    )
                    for hub in self._hubs
                }
        return self._far[start]

    def _leaving(self, start: int) -> Reached:
        """Which hubs paths lead to from a node through its piece alone."""
        formulas, near = self._formulas, self._from(start)
        return {
            hub: formulas.any_of(
                formulas.both(when, self._ways.of(node, hub)) for node, when in near.items()
            )
            for hub in self._hubs
        }

    def _arriving(self, end: int) -> Reached:
        """From which hubs paths lead to a node through its piece alone."""
        formulas = self._formulas
        if end in self._direct:
            return {hub: TRUE if hub == end else FALSE for hub in self._hubs}
        return {
            hub: formulas.any_of(
                formulas.both(self._ways.of(hub, node), self._from(node)[end])
                for node in self._piece[end]
                if node in self._joined[hub]
            )
            for hub in self._hubs
        }

    def _hop(self, start: int, end: int) -> Formula:
        """Whether an open path leads from one hub to another past no third."""
        formulas = self._formulas
        return formulas.any_of(
            [self._ways.of(start, end)]
            + [
                formulas.all_of((self._ways.of(start, node), when, self._ways.of(other, end)))
                for node in sorted(self._joined[start] - set(self._hubs))
                for other, when in self._from(node).items()
                if other in self._joined[end]
            ]
        )

    def _rounds(self, start: int, nodes: Sequence[int], into: dict[int, Reached]) -> Reached:
        """Where steps lead to from a node: rounds from nothing, one less than there are nodes."""
        formulas = self._formulas
        found = {node: TRUE if node == start else FALSE for node in nodes}
        for _ in nodes[1:]:
            fresh = {
                node: formulas.any_of(
                    [found[node]]
                    + [
                        formulas.both(opened, found[other])
                        for other, opened in into[node].items()
                        if other in found
                    ]
                )
                for node in nodes
            }
            if fresh == found:
                break
            found = fresh
        return found


def _hubs(joined: dict[int, set[int]]) -> tuple[tuple[int, ...], list[tuple[int, ...]]]:
    """Nodes with the most neighbours, until small pieces are left; no hub and one piece if that
    takes too many."""
    ranked = sorted(joined, key=lambda node: (-len(joined[node]), node))
    for count in range(_MOST_HUBS + 1):
        hubs = tuple(sorted(ranked[:count]))
        pieces = _pieces(joined, hubs)
        if all(len(piece) <= _FEW for piece in pieces):
            return hubs, pieces
    return (), _pieces(joined, ())


def _pieces(joined: dict[int, set[int]], without: Iterable[int]) -> list[tuple[int, ...]]:
    """What hangs together without some nodes."""
    seen = set(without)
    found = []
    for root in joined:
        if root in seen:
            continue
        seen.add(root)
        piece = [root]
        for node in piece:
            fresh = joined[node] - seen
            seen |= fresh
            piece += fresh
        found.append(tuple(sorted(piece)))
    return found
