"""Conditions as literals over latches and choices (rules M1, M2, P5 and the property rules)."""

from __future__ import annotations

from collections.abc import Mapping

from verifier.model.circuit import Circuit
from verifier.model.condition import At, AtRest, Condition, Hand, Not, Path, Setting
from verifier.transition.encoding import Encoding
from verifier.transition.graph import FALSE, Graph
from verifier.transition.paths import Paths
from verifier.transition.readings import Readings, formula_of

NOBODY: Mapping[int, int] = {}
"""No momentary hand acts."""


class Meaning:
    """What conditions mean in the current state.

    at_rest: no element must move, no momentary hand acting (M6); None until the movement of the
    elements has been compiled, which must not depend on it.
    """

    def __init__(
        self,
        graph: Graph,
        circuit: Circuit,
        encoding: Encoding,
        high: tuple[int, ...],
        low: tuple[int, ...],
    ) -> None:
        self.air = (high, low)
        self.graph = graph
        self.circuit = circuit
        self.encoding = encoding
        self.readings = Readings(graph, high, low)
        self.at_rest: int | None = None
        self._paths: dict[tuple[int, bool], Paths] = {}

    def on(self, graph: Graph) -> Meaning:
        """The same over a copy of the graph."""
        other = Meaning(graph, self.circuit, self.encoding.on(graph), *self.air)
        other.at_rest = self.at_rest
        other._paths = {which: paths.on(graph) for which, paths in self._paths.items()}
        return other

    def some(self, condition: Condition, acting: Mapping[int, int] = NOBODY) -> int:
        """Some reading makes the condition true. acting: the literal of each momentary hand that
        may act; the others do not."""
        return self.readings.some(formula_of(condition, lambda atom: self._atom(atom, acting)))

    def every(self, condition: Condition, acting: Mapping[int, int] = NOBODY) -> int:
        """Every reading makes the condition true."""
        return self.some(Not(condition), acting) ^ 1

    def surroundings(
        self, condition: Condition, acting: Mapping[int, int] = NOBODY, following: bool = False
    ) -> int:
        """A condition on hands and switches, now or after the step (O3)."""

        def atom(part: Condition) -> int:
            match part:
                case Hand(hand=hand) if hand in self.encoding.held:
                    return self.encoding.hand(hand, following)
                case Hand(hand=hand):
                    return acting.get(hand, FALSE)
                case Setting(switch=switch, values=values):
                    return self.encoding.setting(switch, values, following)
            raise ValueError(f"an assumption cannot speak of {type(part).__name__}")

        return self.readings.some(formula_of(condition, atom))

    def _atom(self, atom: Condition, acting: Mapping[int, int]) -> int:
        match atom:
            case At(element=element, positions=positions):
                return self.encoding.at(element, positions)
            case Hand(hand=hand) if hand in self.encoding.held:
                return self.encoding.hand(hand)
            case Hand(hand=hand):
                return acting.get(hand, FALSE)
            case Setting(switch=switch, values=values):
                return self.encoding.setting(switch, values)
            case Path(network=network, directed=directed):
                paths = self._paths.get((network, directed))
                if paths is None:
                    paths = self._paths[network, directed] = self._net(network, directed)
                return paths.open(atom.start, atom.end)
            case AtRest() if self.at_rest is not None:
                return self.at_rest
        raise ValueError(f"{type(atom).__name__} has no meaning here")

    def _net(self, network: int, directed: bool) -> Paths:
        """The paths of a network of liquid or vapour; ways of one direction only count as two
        unless they are `directed`."""
        edges: dict[tuple[int, int], int] = {}
        for way in self.circuit.networks[network].ways:
            literal = self.encoding.met(way.where)
            pairs = [(way.start, way.end)]
            if not (directed and way.one_way):
                pairs.append((way.end, way.start))
            for pair in pairs:
                edges[pair] = self.graph.either(edges.get(pair, FALSE), literal)
        return Paths(self.graph, edges)
