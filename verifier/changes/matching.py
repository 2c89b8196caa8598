"""Which part of an old design is which of a new one, from what each is joined to.

Parts of one name are the same part. The others are matched by their surroundings in the graph of
parts, ports and volumes, refined by colours (Weisfeiler and Lehman, 1968) until nothing is left
that looks alike. Where several look alike, one choice is made and the others are told.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from difflib import SequenceMatcher

import networkx
from msgspec import Struct

from verifier.model.circuit import Circuit

# A hop from a part to the next one passes a port, a volume and a port.
_PER_HOP = 4
_HOPS = 3


class Doubt(Struct, frozen=True):
    """The old part could as well be any of `others` of the new design."""

    old: str
    new: str
    others: tuple[str, ...]


class Matching(Struct, frozen=True):
    """parts: old to new, by number.   doubts: renamed parts that could as well be others."""

    parts: dict[int, int]
    doubts: tuple[Doubt, ...]


def match(old: Circuit, new: Circuit) -> Matching:
    """Each part is matched once at most. Deterministic."""
    named = {part.name: k for k, part in enumerate(new.parts)}
    parts = {k: named[part.name] for k, part in enumerate(old.parts) if part.name in named}
    search = _Search(old, new, parts)
    while search.left() and (search.alone() or search.alike() or search.nearly()):
        pass
    return Matching(dict(sorted(search.parts.items())), tuple(search.doubts))


class _Search:
    def __init__(self, old: Circuit, new: Circuit, parts: dict[int, int]) -> None:
        self.old = old
        self.new = new
        self.parts = parts
        self.doubts: list[Doubt] = []
        self._colours: tuple[dict[int, list[str]], dict[int, list[str]]] | None = None

    def left(self) -> bool:
        return bool(self._free(self.old, self.parts) and self._free(self.new, self._taken()))

    def alone(self) -> bool:
        """Match what has only one that looks like it, the farthest look first."""
        mine, theirs = self._seen()
        for level in reversed(range(_HOPS * _PER_HOP)):
            olds, news = _classes(mine, level), _classes(theirs, level)
            found = [
                (olds[colour][0], news[colour][0])
                for colour in olds
                if len(olds[colour]) == 1 == len(news.get(colour, ()))
            ]
            if level + 1 < _PER_HOP:
                return False  # so near, only the kind and the ports are seen
            if found:
                self._take(found)
                return True
        return False

    def alike(self) -> bool:
        """Match one of several that look alike: the two whose names are most alike."""
        mine, theirs = self._seen()
        for level in reversed(range(_PER_HOP - 1, _HOPS * _PER_HOP)):
            olds, news = _classes(mine, level), _classes(theirs, level)
            for colour, group in olds.items():
                if colour not in news:
                    continue
                a, b = max(
                    ((a, b) for a in group for b in news[colour]),
                    key=lambda pair: (self._likeness(*pair), -pair[0], -pair[1]),
                )
                others = tuple(self.new.parts[other].name for other in news[colour] if other != b)
                if others:
                    names = self.old.parts[a].name, self.new.parts[b].name
                    self.doubts.append(Doubt(*names, others))
                self._take([(a, b)])
                return True
        return False

    def nearly(self) -> bool:
        """Match parts of one kind of whose ports at least half are still joined to the same."""
        mine = {a: _mates(self.old, a, _identities(self.parts)) for a in self._seen()[0]}
        theirs = {
            b: _mates(self.new, b, {new: new for new in self.parts.values()})
            for b in self._seen()[1]
        }
        pairs: networkx.Graph = networkx.Graph()
        for a, joined in mine.items():
            for b, other in theirs.items():
                if self.old.parts[a].kind != self.new.parts[b].kind:
                    continue
                same = sum(joined[port] == other.get(port) for port in joined)
                if joined and 2 * same >= len(joined):
                    likeness = self._likeness(a, b)
                    pairs.add_edge(("old", a), ("new", b), weight=same + likeness)
        found = []
        for one, two in networkx.max_weight_matching(pairs):
            (_, a), (_, b) = sorted((one, two), reverse=True)
            found.append((a, b))
        self._take(sorted(found))
        return bool(found)

    def _likeness(self, a: int, b: int) -> float:
        return SequenceMatcher(None, self.old.parts[a].name, self.new.parts[b].name).ratio()

    def _take(self, pairs: Sequence[tuple[int, int]]) -> None:
        for a, b in pairs:
            self.parts[a] = b
        self._colours = None

    def _taken(self) -> set[int]:
        return set(self.parts.values())

    def _free(self, circuit: Circuit, taken: Mapping[int, int] | set[int]) -> list[int]:
        return [k for k in range(len(circuit.parts)) if k not in taken]

    def _seen(self) -> tuple[dict[int, list[str]], dict[int, list[str]]]:
        """Of each part not yet matched, its colours from the nearest look to the farthest."""
        if self._colours is None:
            names = _identities(self.parts)
            mine = _colours(self.old, names)
            theirs = _colours(self.new, {new: new for new in self.parts.values()})
            self._colours = (
                {k: mine[k] for k in self._free(self.old, self.parts)},
                {k: theirs[k] for k in self._free(self.new, self._taken())},
            )
        return self._colours


def _identities(parts: Mapping[int, int]) -> dict[int, int]:
    """What a matched part is called on both sides: its number in the new design."""
    return dict(parts)


def _colours(circuit: Circuit, known: Mapping[int, int]) -> dict[int, list[str]]:
    graph: networkx.Graph = networkx.Graph()
    for k, part in enumerate(circuit.parts):
        told = f"part {known[k]}" if k in known else f"a {part.kind}"
        graph.add_node(("part", k), told=told)
    for k, port in enumerate(circuit.ports):
        graph.add_node(("port", k), told=f"port {port.label} {port.state}")
        graph.add_edge(("port", k), ("part", port.part))
        graph.add_edge(("port", k), ("volume", port.volume))
    for k, volume in enumerate(circuit.volumes):
        fed = sorted(circuit.supplies[one].name for one in volume.supplies)
        graph.add_node(("volume", k), told=f"volume {volume.open_air} {fed}")
    hashes = networkx.weisfeiler_lehman_subgraph_hashes(
        graph, node_attr="told", iterations=_HOPS * _PER_HOP
    )
    return {k: hashes["part", k] for k in range(len(circuit.parts))}


def _classes(colours: Mapping[int, list[str]], level: int) -> dict[str, list[int]]:
    found: dict[str, list[int]] = defaultdict(list)
    for k, seen in colours.items():
        found[seen[level]].append(k)
    return found


def _mates(circuit: Circuit, part: int, known: Mapping[int, int]) -> dict[str, tuple[object, ...]]:
    """What each port is joined to: ports of matched parts, supplies, the air, a plug."""
    found: dict[str, tuple[object, ...]] = {}
    for number in circuit.parts[part].ports:
        port = circuit.ports[number]
        volume = circuit.volumes[port.volume]
        mates = sorted(
            (known[other.part], other.label)
            for other in (circuit.ports[one] for one in volume.ports)
            if other.part in known
        )
        fed = sorted(circuit.supplies[one].name for one in volume.supplies)
        found[port.label] = (port.state, tuple(mates), tuple(fed))
    return found
