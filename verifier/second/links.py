"""Links of a graph and the copies of nodes that keep apart what is never open together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from verifier.model.circuit import Where
from verifier.second.blocks import Blocks, blocks_of
from verifier.second.formulas import FALSE, Formula, Formulas

# Nodes with more links than this are not looked at: they hardly ever come apart.
_MOST_LINKS = 12


class Link(Struct, frozen=True):
    """A link between two nodes, open when every `where` is met, which `opened` says."""

    start: int
    end: int
    one_way: bool
    where: tuple[Where, ...]
    opened: Formula


class Ways:
    """into: for each node, the nodes from which links lead to it, each with when one is open."""

    def __init__(self, formulas: Formulas, links: Iterable[Link]) -> None:
        self._formulas = formulas
        self.into: dict[int, dict[int, Formula]] = {}
        for link in links:
            self._add(link.start, link.end, link.opened)
            if not link.one_way:
                self._add(link.end, link.start, link.opened)

    def _add(self, start: int, end: int, opened: Formula) -> None:
        if start != end and opened != FALSE:
            ways = self.into.setdefault(end, {})
            ways[start] = self._formulas.either(ways.get(start, FALSE), opened)

    def of(self, start: int, end: int) -> Formula:
        """When a single link from `start` to `end` is open."""
        return self.into.get(end, {}).get(start, FALSE)


def turned(links: Iterable[Link]) -> list[Link]:
    """The same links in the opposite direction."""
    return [Link(one.end, one.start, one.one_way, one.where, one.opened) for one in links]


def blocks_with(links: Iterable[Link], nodes: Sequence[int]) -> Blocks:
    """The blocks that the links make of the nodes."""
    joined: dict[int, set[int]] = {node: set() for node in nodes}
    for link in links:
        if link.start in joined and link.end in joined and link.start != link.end:
            joined[link.start].add(link.end)
            joined[link.end].add(link.start)
    return blocks_of(nodes, {node: sorted(others) for node, others in joined.items()})


def unravelled(
    links: Sequence[Link], nodes: Sequence[int]
) -> tuple[list[Link], dict[int, tuple[int, ...]]]:
    """The links, with nodes inside larger blocks copied, and the copies of each node.

    Two links that want one element in different positions are never open together, so no way goes
    in by one and out by the other. Each copy of a node has links that may be open together, and
    what comes to a node is what comes to one of its copies. The first copy is the node itself.
    """
    larger = {
        node
        for block in blocks_with(links, nodes).blocks
        if len(block.members) > 1
        for node in (block.entry, *block.members)
    }
    touching: dict[int, list[int]] = {node: [] for node in sorted(larger)}
    for number, link in enumerate(links):
        for node in {link.start, link.end} & larger:
            touching[node].append(number)
    free = max([*nodes, *(max(link.start, link.end) for link in links)], default=0) + 1
    copies: dict[int, tuple[int, ...]] = {}
    places: dict[tuple[int, int], int] = {}
    for node, numbers in touching.items():
        groups = _groups(links, numbers)
        copies[node] = (node, *range(free, free + len(groups) - 1))
        free += len(groups) - 1
        for copy, group in zip(copies[node], groups, strict=True):
            places.update({(number, node): copy for number in group})
    moved = [
        Link(
            places.get((number, link.start), link.start),
            places.get((number, link.end), link.end),
            link.one_way,
            link.where,
            link.opened,
        )
        for number, link in enumerate(links)
    ]
    return moved, copies


def _groups(links: Sequence[Link], numbers: Sequence[int]) -> list[list[int]]:
    """Links of one node, those that may be open together in one group; at least one group."""
    if len(numbers) > _MOST_LINKS:
        return [list(numbers)]
    groups: list[list[int]] = []
    for number in numbers:
        near = [
            group
            for group in groups
            if any(_together(links[number].where, links[other].where) for other in group)
        ]
        groups = [group for group in groups if group not in near]
        groups.append([*(one for group in near for one in group), number])
    return groups or [[]]


def _together(first: Sequence[Where], second: Sequence[Where]) -> bool:
    """Whether one position of each element can meet both."""
    wanted: Mapping[int, tuple[int, ...]] = {one.element: one.positions for one in first}
    return all(
        one.element not in wanted or set(one.positions) & set(wanted[one.element]) for one in second
    )
