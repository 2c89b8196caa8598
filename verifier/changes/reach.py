"""What a change can reach: what must be tried again on the trailer.

Something can reach what reads it, what it opens or shuts, and what its air, liquid or vapour can
come to. What nothing changed can reach, works as before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import networkx
from msgspec import Struct

from verifier.changes.counterparts import Counterparts
from verifier.changes.difference import Difference
from verifier.model.circuit import Circuit, Instance
from verifier.model.condition import At, AtRest, Condition, Hand, High, Path, Setting
from verifier.model.simplify import atoms

Node = tuple[str, int]


class Reach(Struct, frozen=True):
    """Names in the new design: parts and tubes that work differently or could, and properties that
    speak of such things. `all_parts`, `all_tubes`: how many there are."""

    parts: tuple[str, ...]
    tubes: tuple[str, ...]
    properties: tuple[str, ...]
    all_parts: int
    all_tubes: int


def reach(between: Counterparts, differences: Iterable[Difference]) -> Reach:
    """A change of names alone reaches nothing."""
    circuit = between.new
    graph = _influence(circuit)
    begin = list(_touched(between, differences))
    reached = set(begin)
    for node in begin:
        if node in graph:
            reached |= networkx.descendants(graph, node)
    parts = {circuit.ports[k].part for what, k in begin if what == "port"}
    parts |= {circuit.elements[k].part for what, k in reached if what == "element"}
    parts |= {k for what, k in begin if what == "part"}
    volumes = {k for what, k in reached if what == "volume"}
    tubes = [
        tube.name
        for line in circuit.lines
        if line.volume in volumes
        for tube in (circuit.tubes[k] for k in line.tubes)
    ]
    spoken = (
        one.name
        for one in circuit.properties
        if any(_nodes(circuit, condition) & reached for condition in _conditions(one.instances))
    )
    return Reach(
        parts=tuple(part.name for k, part in enumerate(circuit.parts) if k in parts),
        tubes=tuple(tubes),
        properties=tuple(spoken),
        all_parts=len(circuit.parts),
        all_tubes=len(circuit.tubes),
    )


def _touched(between: Counterparts, differences: Iterable[Difference]) -> Iterator[Node]:
    """Where the changes are, in the new design."""
    circuit = between.new
    parts = {part.name: k for k, part in enumerate(circuit.parts)}
    ports = {port.name: k for k, port in enumerate(circuit.ports)}
    supplies = {supply.name: supply for supply in circuit.supplies}
    for one in differences:
        if one.name_only:
            continue
        for name in one.ports:
            if name in ports:
                yield "port", ports[name]
                yield "volume", circuit.ports[ports[name]].volume
        # A port that is on another line now leaves the rest of its part as it is.
        for name in one.parts if one.what != "port re-routed" else ():
            if name in parts:
                part = circuit.parts[parts[name]]
                yield "part", parts[name]
                yield from (("element", element) for element in part.elements)
                yield from (("volume", circuit.ports[port].volume) for port in part.ports)
        for name in one.supplies:
            if name in supplies:
                yield "volume", supplies[name].volume
        for name in one.places:
            yield from _of_place(circuit, name)
    yield from _left_behind(between)
    yield from _other_switches(between)


def _other_switches(between: Counterparts) -> Iterator[Node]:
    """Surroundings that are new, or do other things, or start otherwise; hands that do."""
    old, new = between.old, between.new
    switches = {b: old.switches[a] for a, b in between.switches.items()}
    for b, switch in enumerate(new.switches):
        mine = switches.get(b)
        if mine is None or (mine.values, mine.start) != (switch.values, switch.start):
            yield "switch", b
    hands = {b: old.hands[a] for a, b in between.hands.items()}
    for b, hand in enumerate(new.hands):
        its = hands.get(b)
        if its is None or (its.held, its.starts_on) != (hand.held, hand.starts_on):
            yield "hand", b


def _of_place(circuit: Circuit, name: str) -> Iterator[Node]:
    for n, network in enumerate(circuit.networks):
        if name in network.places:
            yield f"network {n}", network.places.index(name)


def _left_behind(between: Counterparts) -> Iterator[Node]:
    """Lines that lost a port to another line, or to a part that is gone."""
    old, new = between.old, between.new
    for a, b in between.volumes.items():
        then = [between.ports.get(port) for port in old.volumes[a].ports]
        if set(then) != set(new.volumes[b].ports):
            yield "volume", b


def _influence(circuit: Circuit) -> networkx.DiGraph:
    graph: networkx.DiGraph = networkx.DiGraph()
    for passage in circuit.passages:
        start, end = ("volume", passage.start), ("volume", passage.end)
        # What is beyond a one-way passage can hold its air back all the same.
        graph.add_edges_from([(start, end), (end, start)])
        for where in passage.where:
            gate = ("element", where.element)
            graph.add_edges_from([(gate, start), (gate, end)])
    for supply in circuit.supplies:
        graph.add_edge(("switch", supply.switch), ("volume", supply.volume))
    for e, element in enumerate(circuit.elements):
        for move in element.moves:
            for node in _nodes(circuit, move.when):
                graph.add_edge(node, ("element", e))
    for n, network in enumerate(circuit.networks):
        medium = f"network {n}"
        for way in network.ways:
            graph.add_edges_from([((medium, way.start), (medium, way.end))])
            if not way.one_way:
                graph.add_edge((medium, way.end), (medium, way.start))
            for where in way.where:
                graph.add_edge(("element", where.element), (medium, way.start))
                graph.add_edge(("element", where.element), (medium, way.end))
    return graph


def _conditions(instances: Iterable[Instance]) -> Iterator[Condition]:
    for one in instances:
        yield one.condition
        if one.first is not None:
            yield one.first


def _nodes(circuit: Circuit, condition: Condition) -> set[Node]:
    found: set[Node] = set()
    for atom in atoms(condition):
        match atom:
            case High(volume=volume):
                found.add(("volume", volume))
            case At(element=element):
                found.add(("element", element))
            case Hand(hand=hand):
                found.add(("hand", hand))
            case Setting(switch=switch):
                found.add(("switch", switch))
            case Path(network=network, start=start, end=end):
                found |= {(f"network {network}", start), (f"network {network}", end)}
            case AtRest():
                found |= {("element", k) for k in range(len(circuit.elements))}
    return found
