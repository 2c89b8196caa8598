"""Parts of a circuit that could change places without anybody noticing.

A symmetry is a map of the circuit's graph onto itself that keeps colours and edges. It is looked
for by refining colours from one part that is singled out, beside the same from another, and checked
edge by edge. What is not found is not taken for alike. Of each it is told which properties ask the
same of the circuit before and after.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from msgspec import Struct, structs

from verifier.changes.asking import kept_by
from verifier.changes.meaning import Graph, Node, graph_of
from verifier.model.circuit import Circuit

MOST_TRIED = 6
"""Nodes of a cell that are tried as the image of one node."""

Map = list[Node]
Colours = list[int]
Sign = tuple[int, tuple[tuple[int, int], ...]]
"""Of a node: its colour, and labels of its edges with the colours at their other ends."""


class Symmetry(Struct, frozen=True):
    """Of each thing of the circuit, by number, what it becomes. kept: numbers of the properties
    that hold of the circuit as well as of any change of it, changed likewise."""

    parts: tuple[int, ...]
    ports: tuple[int, ...]
    volumes: tuple[int, ...]
    elements: tuple[int, ...]
    hands: tuple[int, ...]
    switches: tuple[int, ...]
    places: tuple[tuple[int, ...], ...]
    kept: frozenset[int] = frozenset()


def symmetries(circuit: Circuit) -> tuple[Symmetry, ...]:
    """Enough of them to take every part to all that were found to be like it."""
    return tuple(_Search(circuit).found)


class _Search:
    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.graph: Graph = graph_of(circuit)
        self.base = self._refined([self.graph.colours], None)[0]
        self.found: list[Symmetry] = []
        self._all()

    def _all(self) -> None:
        """For each set of parts of one colour, maps of the first to the others."""
        alike: dict[int, list[int]] = defaultdict(list)
        for part, node in enumerate(self.graph.part):
            alike[self.base[node]].append(part)
        for parts in alike.values():
            for part in parts[1:]:
                if part not in self._reached(parts[0]):
                    self._note(self._map(self.graph.part[parts[0]], self.graph.part[part]))

    def _reached(self, part: int) -> set[int]:
        """The parts that maps which were found take this one to."""
        seen, waiting = {part}, [part]
        while waiting:
            here = waiting.pop()
            for known in self.found:
                if known.parts[here] not in seen:
                    seen.add(known.parts[here])
                    waiting.append(known.parts[here])
        return seen

    def _note(self, found: Map | None) -> None:
        if found is None:
            return
        graph = self.graph

        def told(nodes: Sequence[Node]) -> tuple[int, ...]:
            place = {node: k for k, node in enumerate(nodes)}
            return tuple(place[found[node]] for node in nodes)

        plain = Symmetry(
            told(graph.part),
            told(graph.port),
            told(graph.volume),
            told(graph.element),
            told(graph.hand),
            told(graph.switch),
            tuple(told(nodes) for nodes in graph.place),
        )
        kept = kept_by(
            self.circuit,
            plain.ports,
            plain.volumes,
            plain.elements,
            plain.hands,
            plain.switches,
            plain.places,
        )
        self.found.append(structs.replace(plain, kept=kept))

    def _map(self, one: Node, other: Node) -> Map | None:
        """A symmetry that takes one node to the other, checked; None if none is found."""
        pair: list[Colours] | None = self._marked([list(self.base), list(self.base)], one, other)
        while pair is not None:
            cell = self._smallest(pair[0])
            if cell is None:
                return self._checked(pair)
            first = cell[0]
            colour = pair[0][first]
            others = [k for k, c in enumerate(pair[1]) if c == colour]
            others.sort(key=lambda k: k != first)
            tries = (self._marked(pair, first, k) for k in others[:MOST_TRIED])
            pair = next((one for one in tries if one is not None), None)
        return None

    def _marked(self, pair: list[Colours], one: Node, other: Node) -> list[Colours] | None:
        """Both sides refined with these nodes singled out; None if they come to differ."""
        left, right = list(pair[0]), list(pair[1])
        fresh = max(left) + 1
        left[one], right[other] = fresh, fresh
        both = self._refined([left, right], [one, other])
        return both if sorted(both[0]) == sorted(both[1]) else None

    def _smallest(self, colours: Colours) -> list[Node] | None:
        cells: dict[int, list[Node]] = defaultdict(list)
        for node, colour in enumerate(colours):
            cells[colour].append(node)
        several = [cell for cell in cells.values() if len(cell) > 1]
        return min(several, key=lambda cell: (len(cell), cell[0])) if several else None

    def _refined(self, sides: list[Colours], changed: list[Node] | None) -> list[Colours]:
        """Colours told apart by those of neighbours until nothing more is told apart, on all sides
        with the same names. Only near what changed is anything looked at."""
        edges = self.graph.edges
        sides = [list(side) for side in sides]
        near: list[set[Node]] = [
            set(range(len(side))) if changed is None else {n for _, n in edges[changed[k]]}
            for k, side in enumerate(sides)
        ]
        fresh = max(max(side) for side in sides) + 1
        while any(near):
            signs: dict[Sign, list[tuple[int, Node]]] = defaultdict(list)
            for k, side in enumerate(sides):
                for node in near[k]:
                    sign = (side[node], tuple(sorted((label, side[n]) for label, n in edges[node])))
                    signs[sign].append((k, node))
            fresh, near = self._split(sides, signs, fresh)
        return sides

    def _split(
        self,
        sides: list[Colours],
        signs: dict[Sign, list[tuple[int, Node]]],
        fresh: int,
    ) -> tuple[int, list[set[Node]]]:
        """New colours for nodes of one colour with different signs."""
        kinds: dict[int, list[Sign]] = defaultdict(list)
        for sign in signs:
            kinds[sign[0]].append(sign)
        counts: dict[int, int] = defaultdict(int)
        for side in sides:
            for colour in side:
                counts[colour] += 1
        near: list[set[Node]] = [set() for _ in sides]
        for colour, some in kinds.items():
            looked = sum(len(signs[sign]) for sign in some)
            whole = looked == counts[colour]
            if whole and len(some) == 1:
                continue
            for sign in sorted(some)[1 if whole else 0 :]:
                for k, node in signs[sign]:
                    sides[k][node] = fresh
                    near[k].update(n for _, n in self.graph.edges[node])
                fresh += 1
        return fresh, near

    def _checked(self, pair: list[Colours]) -> Map | None:
        """The map, if it keeps every colour and every edge."""
        there = {colour: node for node, colour in enumerate(pair[1])}
        mapped = [there[colour] for colour in pair[0]]
        graph = self.graph
        for node, image in enumerate(mapped):
            if graph.colours[node] != graph.colours[image]:
                return None
            mine = sorted((label, mapped[n]) for label, n in graph.edges[node])
            if mine != sorted(graph.edges[image]):
                return None
        return mapped
