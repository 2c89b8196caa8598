"""What a circuit is, as a graph: nodes with colours, edges with labels, no names. What is asked of
it is not in it."""

from __future__ import annotations

from collections.abc import Hashable

from verifier.model.circuit import Circuit, Where
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    AtRest,
    Condition,
    Hand,
    High,
    Not,
    Path,
    Setting,
)

Node = int


class Graph:
    """`colours`: of each node, small numbers, the same for what is the same by itself. `edges`: of
    each node its neighbours with labels, both ways. The others: nodes of the circuit's things, in
    its order; `place` by network."""

    def __init__(self) -> None:
        self.colours: list[int] = []
        self.edges: list[list[tuple[int, Node]]] = []
        self.part: list[Node] = []
        self.port: list[Node] = []
        self.volume: list[Node] = []
        self.element: list[Node] = []
        self.hand: list[Node] = []
        self.switch: list[Node] = []
        self.place: list[list[Node]] = []
        self._known: dict[Hashable, int] = {}

    def node(self, *what: Hashable) -> Node:
        self.colours.append(self._number(("node", *what)))
        self.edges.append([])
        return len(self.colours) - 1

    def join(self, one: Node, other: Node, *label: Hashable) -> None:
        """An edge that knows where it begins."""
        self.edges[one].append((self._number((*label, "to")), other))
        self.edges[other].append((self._number((*label, "from")), one))

    def _number(self, what: Hashable) -> int:
        return self._known.setdefault(what, len(self._known))


def graph_of(circuit: Circuit) -> Graph:
    """Two circuits mean the same if their graphs are the same but for the order of nodes."""
    return _Making(circuit).graph


class _Making:
    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.graph = graph = Graph()
        graph.part = [
            graph.node("part", one.kind, one.roles, one.quantities) for one in circuit.parts
        ]
        graph.volume = [
            graph.node("volume", one.open_air, one.line is not None) for one in circuit.volumes
        ]
        graph.port = [
            graph.node("port", one.label, one.exhaust, one.state) for one in circuit.ports
        ]
        graph.hand = [
            graph.node("hand", one.label, one.held, one.starts_on) for one in circuit.hands
        ]
        graph.switch = [
            graph.node("switch", one.label if one.part is not None else "", one.values, one.start)
            for one in circuit.switches
        ]
        graph.element = [
            graph.node(*("element", one.label, one.positions, one.start, one.otherwise, one.fault))
            for one in circuit.elements
        ]
        self._readers: dict[str, Node] = {}
        self._things()
        self._air()
        self._networks()
        self._moves()
        self._said()

    def _things(self) -> None:
        graph, circuit = self.graph, self.circuit
        for number, port in enumerate(circuit.ports):
            graph.join(graph.port[number], graph.part[port.part], "of part")
            graph.join(graph.port[number], graph.volume[port.volume], "in volume")
        for number, hand in enumerate(circuit.hands):
            graph.join(graph.hand[number], graph.part[hand.part], "of part")
        for number, switch in enumerate(circuit.switches):
            if switch.part is not None:
                graph.join(graph.switch[number], graph.part[switch.part], "of part")
        for number, element in enumerate(circuit.elements):
            graph.join(graph.element[number], graph.part[element.part], "of part")
        for supply in circuit.supplies:
            node = graph.node("supply")
            graph.join(node, graph.volume[supply.volume], "in volume")
            graph.join(node, graph.switch[supply.switch], "switch")

    def _air(self) -> None:
        graph = self.graph
        for passage in self.circuit.passages:
            node = graph.node("passage", passage.bore, passage.one_way, passage.tube)
            graph.join(node, graph.part[passage.part], "of part")
            graph.join(node, graph.port[passage.ports[0]], "first port")
            graph.join(node, graph.port[passage.ports[1]], "last port")
            self._where(node, passage.where)

    def _where(self, node: Node, where: tuple[Where, ...]) -> None:
        for one in where:
            self.graph.join(node, self.graph.element[one.element], "where", one.positions)

    def _networks(self) -> None:
        graph = self.graph
        for network in self.circuit.networks:
            places = [graph.node("place", network.medium) for _ in network.places]
            graph.place.append(places)
            for way in network.ways:
                node = graph.node("way", network.medium, way.one_way)
                ends = ("start", "end") if way.one_way else ("an end", "an end")
                graph.join(node, places[way.start], ends[0])
                graph.join(node, places[way.end], ends[1])
                if way.part is not None:
                    graph.join(node, graph.part[way.part], "of part")
                self._where(node, way.where)

    def _moves(self) -> None:
        graph = self.graph
        for number, element in enumerate(self.circuit.elements):
            for rank, move in enumerate(element.moves):
                graph.join(graph.element[number], self.condition(move.when), rank, move.target)

    def _said(self) -> None:
        graph, circuit = self.graph, self.circuit
        for one in circuit.assumptions:
            graph.join(graph.node("assumption"), self.condition(one.condition), "says")
        for accepted in circuit.accepted:
            node = graph.node("accepted")
            graph.join(node, self.condition(accepted.condition), "while")
            for element in accepted.elements:
                graph.join(node, graph.element[element], "element")

    # ---- conditions
    def condition(self, condition: Condition) -> Node:
        """Parts of a conjunction or disjunction in no order."""
        graph = self.graph
        match condition:
            case Not(of=inner):
                node = graph.node("not")
                graph.join(node, self.condition(inner), "of")
            case All(of=parts) | Any(of=parts):
                node = graph.node("all" if isinstance(condition, All) else "any")
                for part in parts:
                    graph.join(node, self.condition(part), "of")
            case High(volume=volume, reader=reader, port=port):
                node = graph.node("high", port is not None)
                graph.join(node, graph.volume[volume], "volume")
                graph.join(node, self._reader(reader), "reader")
                if port is not None:
                    graph.join(node, graph.port[port], "port")
            case At(element=element, positions=positions):
                node = graph.node("at", positions)
                graph.join(node, graph.element[element], "element")
            case Hand(hand=hand):
                node = graph.node("by hand")
                graph.join(node, graph.hand[hand], "hand")
            case Setting(switch=switch, values=values):
                node = graph.node("setting", values)
                graph.join(node, graph.switch[switch], "switch")
            case Path(network=network, start=start, end=end, directed=directed):
                node = graph.node("path", directed)
                ends = ("start", "end") if directed else ("an end", "an end")
                graph.join(node, graph.place[network][start], ends[0])
                graph.join(node, graph.place[network][end], ends[1])
            case AtRest():
                node = graph.node("at rest")
            case Always(value=value):
                node = graph.node("always", value)
        return node

    def _reader(self, name: str) -> Node:
        """Who has one reading of a volume in all places where he is spoken of."""
        if name not in self._readers:
            self._readers[name] = self.graph.node("reader")
        return self._readers[name]
