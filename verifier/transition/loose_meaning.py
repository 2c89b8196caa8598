"""What conditions mean where parts and tubes may be let go (rule Q13)."""

from __future__ import annotations

from msgspec import Struct, structs

from verifier.model.circuit import Circuit, Element, Instance, Network
from verifier.model.condition import All, Any, Condition, High, Not
from verifier.transition.conditions import Meaning
from verifier.transition.encoding import Encoding
from verifier.transition.graph import FALSE, Graph
from verifier.transition.loose_air import LooseAir
from verifier.transition.loosening import Loosening
from verifier.transition.paths import Paths

Legs = dict[tuple[int, int], int]


class LooseMeaning(Meaning):
    """Conditions of a circuit whose readings `LooseReadings` has put right: whether what is let go
    must move, and whether the ways of product through it are open, is as it likes."""

    def __init__(
        self,
        circuit: Circuit,
        encoding: Encoding,
        loosening: Loosening,
        high: tuple[int, ...],
        low: tuple[int, ...],
    ) -> None:
        super().__init__(encoding.graph, circuit, encoding, high, low)
        self.loosening = loosening
        self._legs = [_legs(network, encoding, loosening) for network in circuit.networks]
        self._wants = [loosening.may(f"{one.name} must move, let go") for one in circuit.elements]

    def on(self, graph: Graph) -> LooseMeaning:
        other = object.__new__(LooseMeaning)
        Meaning.__init__(other, graph, self.circuit, self.encoding.on(graph), *self.air)
        other.at_rest = self.at_rest
        other.loosening = self.loosening
        other._legs = self._legs
        other._wants = self._wants
        other._paths = {which: paths.on(graph) for which, paths in self._paths.items()}
        return other

    def must(self, element: int, told: int) -> int:
        keeps = self.loosening.works(self.circuit.elements[element].part)
        wants = self.graph.both(keeps ^ 1, self._wants[element])
        return self.graph.either(self.graph.both(keeps, told), wants)

    def _net(self, network: int, directed: bool) -> Paths:
        edges: Legs = {}
        for (start, end), literal in self._legs[network].items():
            for pair in [(start, end)] if directed else [(start, end), (end, start)]:
                edges[pair] = self.graph.either(edges.get(pair, FALSE), literal)
        return Paths(self.graph, edges)


def _legs(network: Network, encoding: Encoding, loosening: Loosening) -> Legs:
    """Under which literal product passes from one place to another."""
    graph, circuit = loosening.graph, loosening.circuit
    own: dict[tuple[int | None, int, int], tuple[int, int]] = {}
    for way in network.ways:
        first, second = min(way.start, way.end), max(way.start, way.end)
        there, back = own.get((way.part, first, second), (FALSE, FALSE))
        literal = encoding.met(way.where)
        if way.start == first or not way.one_way:
            there = graph.either(there, literal)
        if way.start == second or not way.one_way:
            back = graph.either(back, literal)
        own[way.part, first, second] = there, back
    places = {name: place for place, name in enumerate(network.places)}
    for fault in circuit.faults:
        for effect in fault.effects:
            ends = sorted(places[name] for name in effect.places if name in places)
            if effect.medium == network.medium and len(ends) == 2:
                own.setdefault((fault.part, ends[0], ends[1]), (FALSE, FALSE))
    legs: Legs = {}
    for (part, first, second), (there, back) in own.items():
        if part is not None:
            keeps = loosening.works(part)
            name = f"{network.places[first]} to {network.places[second]} through the part"
            onward = loosening.loose(keeps, f"{name} is open")
            backward = onward if there == back else loosening.loose(keeps, f"{name}, backwards")
            there = graph.either(graph.both(keeps, there), onward)
            back = graph.either(graph.both(keeps, back), backward)
        for pair, literal in (((first, second), there), ((second, first), back)):
            legs[pair] = graph.either(legs.get(pair, FALSE), literal)
    return legs


class LooseReadings(Struct, frozen=True):
    """What can be read, by number: first of the nodes of the air, then of ports at whose end there
    is no node, then, `whole` after each volume, at any end of the volume.

    at: the number for a volume and the port that reads it.
    """

    high: tuple[int, ...]
    low: tuple[int, ...]
    at: dict[tuple[int, str], int]
    whole: int

    def rewrite(self, circuit: Circuit) -> Circuit:
        """The circuit, its conditions reading these numbers in place of volumes."""
        return structs.replace(
            circuit,
            elements=tuple(self._element(element) for element in circuit.elements),
            properties=tuple(
                structs.replace(item, instances=tuple(map(self._instance, item.instances)))
                for item in circuit.properties
            ),
        )

    def _element(self, element: Element) -> Element:
        moves = (structs.replace(m, when=self._condition(m.when)) for m in element.moves)
        return structs.replace(element, moves=tuple(moves))

    def _instance(self, instance: Instance) -> Instance:
        return structs.replace(
            instance,
            condition=self._condition(instance.condition),
            first=None if instance.first is None else self._condition(instance.first),
            triggers=(),
        )

    def _condition(self, condition: Condition) -> Condition:
        match condition:
            case High(volume=volume, reader=reader):
                return High(self.at.get((volume, reader), self.whole + volume), reader)
            case Not(of=inner):
                return Not(self._condition(inner))
            case All(of=parts) | Any(of=parts):
                return type(condition)(tuple(self._condition(part) for part in parts))
        return condition


def loose_readings(loosening: Loosening, air: LooseAir) -> LooseReadings:
    """A port reads what is at its end, and as it likes while the tube there is let go and blocked;
    what speaks of a line, not of a port, may mean any end of it."""
    graph, circuit = loosening.graph, loosening.circuit
    high, low = list(air.high), list(air.low)
    at: dict[tuple[int, str], int] = {}
    for p, port in enumerate(circuit.ports):
        node = air.end.get(p, port.volume)
        if p in loosening.tube_at and p not in air.end:
            node = len(high)
            passes = loosening.passes(loosening.tube_at[p])
            for found, own, word in ((high, air.high, "high"), (low, air.low, "low")):
                loose = loosening.loose(passes, f"{port.name} reads {word}, cut off")
                found.append(graph.either(own[port.volume], loose))
        at[port.volume, port.name] = node
    whole = len(high)
    tubes: dict[int, list[int]] = {}
    for t, tube in enumerate(circuit.tubes):
        tubes.setdefault(circuit.lines[tube.line].volume, []).append(loosening.passes(t))
    for v, volume in enumerate(circuit.volumes):
        passes = graph.all(tubes.get(v, []))
        for found, own, word in ((high, air.high, "high"), (low, air.low, "low")):
            loose = loosening.loose(passes, f"{volume.name} reads {word} at some end")
            found.append(graph.either(own[v], loose))
    return LooseReadings(tuple(high), tuple(low), at, whole)
