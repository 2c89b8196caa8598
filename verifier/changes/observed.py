"""What can be seen of two circuits that stand side by side, and where they differ in it.

Seen are the elements that both have, where they have the same positions, and whether liquid and
vapour pass between places of one name. Each becomes a *never, at rest* of the pair.
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx

from verifier.changes.abreast import Abreast
from verifier.changes.counterparts import Counterparts
from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit, Instance, Network, Property
from verifier.model.condition import All, Any, At, Condition, Not, Path

NOWHERE = Span("", 1, 1, 1, 1)


def observed(pair: Abreast, between: Counterparts) -> tuple[Property, ...]:
    """One for each thing that can be seen: that both circuits never show it differently."""
    return tuple(
        Property(name, "never", "at_rest", (Instance("", condition, f"{name} differs"),), NOWHERE)
        for name, condition in (*_elements(pair, between), *_ways(pair, between))
    )


def unseen(between: Counterparts) -> tuple[str, ...]:
    """Elements of matched parts that cannot be compared, as their positions have other names."""
    return tuple(
        between.new.elements[b].name
        for a, b in between.elements.items()
        if between.old.elements[a].positions != between.new.elements[b].positions
    )


def _elements(pair: Abreast, between: Counterparts) -> Iterator[tuple[str, Condition]]:
    for a, b in between.elements.items():
        mine, other = between.old.elements[a], between.new.elements[b]
        if mine.positions != other.positions:
            continue
        here, there = a + pair.old.add.elements, b + pair.new.add.elements
        yield (
            f"where {other.name} stands",
            Any(
                tuple(
                    All((At(here, (k,)), Not(At(there, (k,))))) for k in range(len(mine.positions))
                )
            ),
        )


def _ways(pair: Abreast, between: Counterparts) -> Iterator[tuple[str, Condition]]:
    media = {network.medium: k for k, network in enumerate(between.new.networks)}
    for k, network in enumerate(between.old.networks):
        if network.medium not in media:
            continue
        other = between.new.networks[media[network.medium]]
        mine, theirs = _joined(between.old, network), _joined(between.new, other)
        for start, end in dict.fromkeys([*mine, *theirs]):
            if {start, end} <= set(network.places) & set(other.places):
                here = _path(k + pair.old.add.networks, network, start, end)
                there = _path(media[network.medium] + pair.new.add.networks, other, start, end)
                yield (
                    f"whether {network.medium} passes from {start} to {end}",
                    Any((All((here, Not(there))), All((there, Not(here))))),
                )


def _path(index: int, network: Network, start: str, end: str) -> Path:
    return Path(index, network.places.index(start), network.places.index(end), True)


def _joined(circuit: Circuit, network: Network) -> list[tuple[str, str]]:
    """Places, no ports of parts, that something could pass between if all stood open."""
    parts = {part.name for part in circuit.parts}
    graph: networkx.DiGraph = networkx.DiGraph()
    for way in network.ways:
        graph.add_edge(way.start, way.end)
        if not way.one_way:
            graph.add_edge(way.end, way.start)
    own = [k for k, name in enumerate(network.places) if name.rpartition(".")[0] not in parts]
    found = []
    for start in own:
        reached = networkx.descendants(graph, start) if start in graph else set()
        found += [
            (network.places[start], network.places[end])
            for end in own
            if end in reached and (start < end or (end, start) not in graph.edges)
        ]
    return found
