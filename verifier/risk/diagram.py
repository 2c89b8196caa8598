"""A family of cut sets as a binary decision diagram, and what it is worth in probabilities.

`dd` stands behind this door. The diagram of a family, its variables in a given order, is unique, so
nothing that is computed from it depends on how it was built.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct

from verifier.risk.between import NOUGHT, ONE, Between
from verifier.risk.families import CutSet, ordered

MOST_NODES = 1_000_000

NO, YES = 0, 1
"""The leaves: places in `Diagram.nodes`, which begin after them."""


class TooLarge(Exception):
    """The diagram would have more nodes than are allowed."""


class Node(Struct, frozen=True):
    """`fault` has struck: go on at `then`; it has not: at `other`. Both lie before this one."""

    fault: str
    then: int
    other: int


class Diagram(Struct, frozen=True):
    """nodes: the leaves' places are not in it; place k is `nodes[k - 2]`.   top: place of the
    root."""

    nodes: tuple[Node, ...]
    top: int

    def chance(self, of: Mapping[str, Between]) -> Between:
        """Probability that all faults of some set have struck."""
        return self._worth(of)[self.top]

    def sensitivity(self, of: Mapping[str, Between]) -> dict[str, Between]:
        """For each fault, the probability that it decides: all of some set will have struck if it
        has, and of none if it has not. One pass up and one down."""
        worth = self._worth(of)
        reached = [NOUGHT] * len(worth)
        reached[self.top] = ONE
        decides: dict[str, Between] = {}
        for place in range(len(worth) - 1, YES, -1):
            node = self.nodes[place - 2]
            here = reached[place]
            p = of[node.fault]
            reached[node.then] += here.times(p)
            reached[node.other] += here.times(ONE - p)
            gain = here.times(worth[node.then] - worth[node.other])
            decides[node.fault] = decides.get(node.fault, NOUGHT) + gain
        return decides

    def _worth(self, of: Mapping[str, Between]) -> list[Between]:
        worth = [NOUGHT, ONE]
        for node in self.nodes:
            p = of[node.fault]
            worth.append(p.times(worth[node.then]) + (ONE - p).times(worth[node.other]))
        return worth


def diagram(sets: Sequence[CutSet], most: int = MOST_NODES) -> Diagram:
    """The diagram of a family, which needs not be minimal; raises TooLarge."""
    if not sets:
        return Diagram((), NO)
    if any(not one for one in sets):
        return Diagram((), YES)
    order = ordered(sets)
    number = {fault: k for k, fault in enumerate(order)}
    manager = _manager(order)
    root = _Building(manager, most).of(sorted(sorted(map(number.__getitem__, s)) for s in sets))
    return _plain(manager, root, order)


def _manager(order: Sequence[str]) -> Any:
    """Nodes are numbers in it, negative when complemented; none is dropped while it lasts."""
    from dd import bdd

    make: Any = bdd.BDD
    manager = make({fault: k for k, fault in enumerate(order)})
    manager.configure(reordering=False)
    return manager


class _Building:
    """Bottom up over what sets have in common from their first names on. Families that are equal
    become one, by the numbers of what they are made of, before a diagram is made of them."""

    def __init__(self, manager: Any, most: int) -> None:
        self._manager = manager
        self._most = most
        self._numbers: dict[tuple[int, int, int], int] = {}
        self._made: list[int] = [manager.false, manager.true]

    def of(self, sets: Sequence[Sequence[int]]) -> int:
        """sets: of variables by their number, ascending, each and all."""
        return self._made[self._family(sets, 0, len(sets), 0)]

    def _family(self, sets: Sequence[Sequence[int]], first: int, last: int, depth: int) -> int:
        total = NO
        for start, end in reversed(list(_groups(sets, first, last, depth))):
            if len(sets[start]) == depth:
                return YES
            having = self._family(sets, start, end, depth + 1)
            total = self._number(sets[start][depth], having, total)
        return total

    def _number(self, variable: int, having: int, lacking: int) -> int:
        """Of the family of those sets that had the variable and those that lack it."""
        key = (variable, having, lacking)
        if key not in self._numbers:
            made, manager = self._made, self._manager
            then = manager.ite(made[having], manager.true, made[lacking])
            level = manager.find_or_add(variable, manager.false, manager.true)
            made.append(manager.ite(level, then, made[lacking]))
            self._numbers[key] = len(made) - 1
            if len(manager) > self._most:
                raise TooLarge
        return self._numbers[key]


def _groups(
    sets: Sequence[Sequence[int]], first: int, last: int, depth: int
) -> Iterator[tuple[int, int]]:
    """Runs of sets with the same name at this depth; one that ends here comes first, alone."""
    start = first
    while start < last:
        end = start + 1
        name = sets[start][depth : depth + 1]
        while end < last and sets[end][depth : depth + 1] == name:
            end += 1
        yield start, end
        start = end


def _plain(manager: Any, root: int, order: Sequence[str]) -> Diagram:
    """Without complemented edges; each node after those it leads to."""
    nodes: list[Node] = []
    known: dict[int, int] = {manager.false: NO, manager.true: YES}
    waiting = [root]
    while waiting:
        one = waiting[-1]
        if one in known:
            waiting.pop()
            continue
        level, other, then = manager.succ(one)
        if one < 0:
            other, then = -other, -then
        missing = [after for after in (then, other) if after not in known]
        if missing:
            waiting.extend(missing)
            continue
        nodes.append(Node(order[level], known[then], known[other]))
        known[one] = len(nodes) + 1
        waiting.pop()
    return Diagram(tuple(nodes), known[root])
