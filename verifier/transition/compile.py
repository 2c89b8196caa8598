"""From a circuit to a transition system of named definitions."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.model.circuit import Circuit
from verifier.transition.compiled import Compiled
from verifier.transition.conditions import Meaning
from verifier.transition.encoding import (
    Encoding,
    element_code,
    element_names,
    kept_name,
    switch_code,
    switch_names,
)
from verifier.transition.graph import TRUE, Graph
from verifier.transition.movement import Demand, Motion, demand_of, motion_of
from verifier.transition.pressure import Pressures, pressures_of
from verifier.transition.properties import Observers, questions_of
from verifier.transition.system import Definition, Goal, Latch, System


def compile_circuit(circuit: Circuit) -> Compiled:
    """The system of a circuit that `wellformed` accepts, with the questions of its properties."""
    graph = Graph()
    encoding = Encoding(graph, circuit)
    air = pressures_of(graph, circuit, encoding)
    meaning = Meaning(graph, circuit, encoding, air.high, air.low)
    every = range(len(circuit.elements))
    demands = tuple(demand_of(meaning, element) for element in every)
    acting = {hand: 2 * node for hand, node in encoding.acting.items()}
    motions = tuple(motion_of(meaning, element, acting) for element in every)
    encoding.moved = {element: motions[element].next for element in every}
    at_rest = graph.all(demand.must_move ^ 1 for demand in demands)
    meaning.at_rest = at_rest
    observers = Observers()
    questions = tuple(questions_of(circuit, meaning, at_rest, observers))
    latches = _latches(graph, circuit, encoding, air, motions)
    index = {latch.node: i for i, latch in enumerate(latches)}
    return Compiled(
        circuit=circuit,
        system=_system(meaning, air, demands, motions, (*latches, *observers.latches)),
        element_codes=tuple(tuple(index[node] for node in nodes) for nodes in encoding.elements),
        switch_codes=tuple(tuple(index[node] for node in nodes) for nodes in encoding.switches),
        hand_latches={hand: index[node] for hand, node in encoding.held.items()},
        memory_latches={volume: index[node] for volume, node in encoding.memory.items()},
        at_rest=at_rest,
        demands=tuple(demand.targets for demand in demands),
        must_move=tuple(demand.must_move for demand in demands),
        high=air.high,
        low=air.low,
        trapped=air.trapped,
        contest=Goal("no contest", air.contest),
        questions=questions,
        pressures=air,
        meaning=meaning,
    )


def _latches(
    graph: Graph,
    circuit: Circuit,
    encoding: Encoding,
    air: Pressures,
    motions: Sequence[Motion],
) -> tuple[Latch, ...]:
    """Elements, held hands, switches, memories, each in the order of the circuit; starts: O4."""
    found: list[Latch] = []
    for e, element in enumerate(circuit.elements):
        code = element_code(element.start, len(element.positions))
        bits = zip(element_names(element), encoding.elements[e], code, motions[e].next, strict=True)
        found += (Latch(*bit) for bit in bits)
    for h, node in encoding.held.items():
        hand = circuit.hands[h]
        found.append(Latch(hand.name, node, hand.starts_on, encoding.hand(h, following=True)))
    for s, switch in enumerate(circuit.switches):
        code = switch_code(switch.start, len(switch.values))
        nodes, following = encoding.switches[s], encoding.next_switches[s]
        for name, node, start, later in zip(
            switch_names(switch), nodes, code, following, strict=True
        ):
            found.append(Latch(name, node, start, 2 * later))
    for v, node in encoding.memory.items():
        name = kept_name(circuit.volumes[v].name)
        found.append(Latch(name, node, False, _kept_next(graph, encoding, air, v)))
    return tuple(found)


def _kept_next(graph: Graph, encoding: Encoding, air: Pressures, volume: int) -> int:
    """What the volume remembers if it is trapped after the step, else it does not matter (P4, P5):
    a pressure that it could have before; what was trapped before may have leaked (and P7)."""
    may_be_empty = graph.either(air.low[volume], air.trapped[volume])
    comes_out_empty = graph.both(may_be_empty, encoding.comes_out_empty(volume))
    return graph.both(air.high[volume], comes_out_empty ^ 1)


def _system(
    meaning: Meaning,
    air: Pressures,
    demands: Sequence[Demand],
    motions: Sequence[Motion],
    latches: tuple[Latch, ...],
) -> System:
    graph, circuit, encoding = meaning.graph, meaning.circuit, meaning.encoding
    acting = {hand: 2 * node for hand, node in encoding.acting.items()}
    assumptions, of_states = [], []
    for assumption in circuit.assumptions:
        condition = assumption.condition
        literal = graph.both(
            meaning.surroundings(condition, acting),
            meaning.surroundings(condition, following=True),
        )
        assumptions.append((assumption.name, literal))
        of_states.append((assumption.name, meaning.surroundings(condition)))
    events = _events(circuit, encoding)
    return System(
        graph=graph,
        latches=latches,
        choices=tuple(encoding.choices),
        step_allowed=graph.all(literal for _, literal in assumptions),
        state_allowed=graph.all(literal for _, literal in of_states),
        definitions=tuple(_definitions(meaning, air, demands)),
        assumptions=tuple(assumptions),
        encoding=TRUE,
        events=tuple(events),
        motions=tuple(_motions(graph, circuit, encoding, air, motions)),
        state_assumptions=tuple(of_states),
        # The last of them.
        surroundings=tuple(range(len(events) - len(circuit.switches), len(events))),
    )


def _definitions(meaning: Meaning, air: Pressures, demands: Sequence[Demand]) -> list[Definition]:
    circuit = meaning.circuit
    found = []
    for v, volume in enumerate(circuit.volumes):
        found += [
            Definition(f"{volume.name} is fed", air.fed[v]),
            Definition(f"{volume.name} is vented", air.vented[v]),
            Definition(f"{volume.name} is trapped", air.trapped[v]),
            Definition(f"{volume.name} can be high", air.high[v]),
            Definition(f"{volume.name} can be low", air.low[v]),
        ]
    for element, demand in zip(circuit.elements, demands, strict=True):
        found += (
            Definition(f"{element.name} is sent to {element.positions[position]}", literal)
            for position, literal in demand.targets
        )
        found.append(Definition(f"{element.name} must move", demand.must_move))
    return found


def _events(circuit: Circuit, encoding: Encoding) -> list[Definition]:
    """One for each thing that operator or surroundings can do in a step (O1, O2)."""
    graph = encoding.graph
    found = [
        Definition(f"{circuit.hands[hand].name} acts", 2 * node)
        for hand, node in encoding.acting.items()
    ]
    for hand in encoding.held:
        same = graph.same(encoding.hand(hand), encoding.hand(hand, following=True))
        found.append(Definition(f"{circuit.hands[hand].name} changes", same ^ 1))
    for s, switch in enumerate(circuit.switches):
        same = graph.any(
            graph.both(encoding.setting(s, (value,)), encoding.setting(s, (value,), True))
            for value in range(len(switch.values))
        )
        found.append(Definition(f"{switch.name} changes", same ^ 1))
    return found


def _motions(
    graph: Graph,
    circuit: Circuit,
    encoding: Encoding,
    air: Pressures,
    motions: Sequence[Motion],
) -> list[Definition]:
    """One for each element that can move, and for each trapped volume that can lose its air."""
    found = [
        Definition(f"{element.name} moves", graph.either(motion.up, motion.down))
        for element, motion in zip(circuit.elements, motions, strict=True)
    ]
    for v in encoding.memory:
        leaks = graph.all([air.trapped[v], air.low[v] ^ 1, encoding.comes_out_empty(v)])
        found.append(Definition(f"{circuit.volumes[v].name} loses its air", leaks))
    return found
