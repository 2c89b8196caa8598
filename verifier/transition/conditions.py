"""Conditions as literals over latches and choices (rules M1, M2, P5 and the property rules)."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy

from verifier.model.circuit import Circuit
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
from verifier.transition.encoding import Encoding
from verifier.transition.graph import FALSE, Graph
from verifier.transition.paths import Paths
from verifier.transition.readings import Part, Readings, asked_by, clash, formula_of

NOBODY: Mapping[int, int] = {}
"""No momentary hand acts."""

MOST_IN_TURN = 4
"""Conjunctions of more parts are balanced instead."""


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
        self._parts: dict[int, Part] = {}

    def on(self, graph: Graph) -> Meaning:
        """The same over a copy of the graph."""
        other = Meaning(graph, self.circuit, self.encoding.on(graph), *self.air)
        other.at_rest = self.at_rest
        other._paths = {which: paths.on(graph) for which, paths in self._paths.items()}
        other._parts = {number: copy(part) for number, part in self._parts.items()}
        return other

    def must(self, element: int, told: int) -> int:
        """The element must move, given that no reading tells it to stay where it is (M3)."""
        return told

    def some(self, condition: Condition, acting: Mapping[int, int] = NOBODY) -> int:
        """Some reading makes the condition true. acting: the literal of each momentary hand that
        may act; the others do not."""
        return self._told(condition, True, acting)

    def every(self, condition: Condition, acting: Mapping[int, int] = NOBODY) -> int:
        """Every reading makes the condition true."""
        return self._told(condition, False, acting) ^ 1

    def some_at(self, moment: int, condition: Condition, sense: bool = True) -> int:
        """`moment`, and some reading gives the condition this truth value.

        Conjuncts join the moment one after the other, so that instances of a property that have
        the first ones in common share them.
        """
        while isinstance(condition, Not):
            condition, sense = condition.of, not sense
        if isinstance(condition, All | Any) and isinstance(condition, All) == sense:
            parts = [self._part(one) for one in condition.of]
            if len(parts) <= MOST_IN_TURN and not clash(parts):
                for part in parts:
                    moment = self.graph.both(moment, self._literal(part, sense))
                return moment
        return self.graph.both(moment, self._told(condition, sense, NOBODY))

    def every_at(self, moment: int, condition: Condition) -> int:
        """`moment`, and every reading makes the condition true."""
        return self.graph.both(moment, self._literal(self._part(condition), False) ^ 1)

    def _told(self, condition: Condition, sense: bool, acting: Mapping[int, int]) -> int:
        """Some reading gives the condition this truth value."""
        match condition:
            case Not(of=inner):
                return self._told(inner, not sense, acting)
            case Always(value=value):
                return int(value == sense)
            case High(volume=volume):
                return self.air[0 if sense else 1][volume]
            case All(of=some) | Any(of=some):
                conjunction = isinstance(condition, All) == sense
                if conjunction and clash(map(self._part, some)):
                    whole = condition if sense else Not(condition)
                    return self.readings.some(formula_of(whole, lambda a: self._atom(a, acting)))
                if acting is NOBODY:
                    told = [self._shared(one, sense) for one in some]
                else:
                    told = [self._told(one, sense, acting) for one in some]
                return self.graph.all(told) if conjunction else self.graph.any(told)
        return self._atom(condition, acting) ^ int(not sense)

    def _shared(self, condition: Condition, sense: bool) -> int:
        """As `_told` with nobody acting; what has parts of its own is known by its object."""
        if isinstance(condition, All | Any | Not):
            return self._literal(self._part(condition), sense)
        return self._told(condition, sense, NOBODY)

    def _part(self, condition: Condition) -> Part:
        """What is known of a condition that may be part of many: it is the same object in all."""
        known = self._parts.get(id(condition))
        if known is None:
            inner = condition.of if isinstance(condition, All | Any) else ()
            if isinstance(condition, Not):
                inner = (condition.of,)
            asked = asked_by(condition, [self._part(one) for one in inner])
            known = self._parts[id(condition)] = Part(condition, asked)
        return known

    def _literal(self, part: Part, sense: bool) -> int:
        """As `_told` with nobody acting."""
        literal = part.true if sense else part.false
        if literal < 0:
            literal = self._told(part.condition, sense, NOBODY)
            if sense:
                part.true = literal
            else:
                part.false = literal
        return literal

    def surroundings(
        self, condition: Condition, acting: Mapping[int, int] = NOBODY, following: bool = False
    ) -> int:
        """A condition on hands, switches and faults, now or after the step (O3, F1)."""

        def atom(part: Condition) -> int:
            match part:
                case Hand(hand=hand) if hand in self.encoding.held:
                    return self.encoding.hand(hand, following)
                case Hand(hand=hand):
                    return acting.get(hand, FALSE)
                case Setting(switch=switch, values=values):
                    return self.encoding.setting(switch, values, following)
                case At(element=element, positions=positions):
                    return self.encoding.at(element, positions, following)
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
