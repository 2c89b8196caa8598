"""A circuit of which parts and tubes may be let go, as a transition system (rule Q13).

It has the latches of the circuit's own system, so that a proof for the one can be put to the other.
"""

from __future__ import annotations

from msgspec import Struct, structs

from verifier.transition.compiled import Compiled
from verifier.transition.encoding import Encoding
from verifier.transition.graph import Graph
from verifier.transition.loose_air import LooseAir, loose_air
from verifier.transition.loose_meaning import LooseMeaning, loose_readings
from verifier.transition.loosening import Duty, Loosening
from verifier.transition.movement import demand_of, motion_of
from verifier.transition.properties import Observers, questions_of
from verifier.transition.system import Goal, Latch, System


class Loose(Struct, frozen=True):
    """compiled: system and questions of the loosened circuit. Its literals, those of goals too,
    depend on inputs beside latches and choices:
    keeps: one for each duty, that it is kept;
    free: those of what is let go, as it likes at every moment, after a step anew.

    With all duties kept it is the circuit's own system. `compiled` has no definitions, and its
    pressures by volume are those of `compiled.meaning`, whose readings are by node (loose_air.py).
    """

    compiled: Compiled
    keeps: dict[Duty, int]
    free: tuple[int, ...]


def loosened(own: Compiled) -> Loose:
    """The loosened circuit of a compiled one."""
    graph = Graph()
    encoding = Encoding(graph, own.circuit)
    loosening = Loosening(graph, own.circuit)
    air = loose_air(loosening, encoding, own.memory_latches)
    readings = loose_readings(loosening, air)
    circuit = readings.rewrite(own.circuit)
    meaning = LooseMeaning(circuit, encoding, loosening, readings.high, readings.low)
    every = range(len(circuit.elements))
    demands = tuple(demand_of(meaning, element) for element in every)
    at_rest = graph.all(demand.must_move ^ 1 for demand in demands)
    meaning.at_rest = at_rest
    observers = Observers()
    questions = tuple(questions_of(circuit, meaning, at_rest, observers))
    moved = _moved(meaning)
    encoding.moved = {
        e: tuple(moved[n] for n in nodes) for e, nodes in enumerate(encoding.elements)
    }
    following = {
        **moved,
        **{node: encoding.hand(hand, following=True) for hand, node in encoding.held.items()},
        **_switched(encoding),
        **_remembered(encoding, air),
        **{latch.node: latch.next for latch in observers.latches},
    }
    system = _system(meaning, own.system, following, observers)
    return Loose(
        compiled=structs.replace(
            own,
            circuit=circuit,
            system=system,
            at_rest=at_rest,
            demands=tuple(demand.targets for demand in demands),
            must_move=tuple(demand.must_move for demand in demands),
            high=air.high,
            low=air.low,
            trapped=air.trapped,
            contest=Goal(own.contest.name, air.contest),
            questions=questions,
            meaning=meaning,
        ),
        keeps=loosening.keeps,
        free=tuple(loosening.free),
    )


def _moved(meaning: LooseMeaning) -> dict[int, int]:
    """What follows in each bit of each element; one that is let go goes anywhere."""
    encoding, loosening = meaning.encoding, meaning.loosening
    acting = {hand: 2 * node for hand, node in encoding.acting.items()}
    found: dict[int, int] = {}
    for e, element in enumerate(meaning.circuit.elements):
        motion = motion_of(meaning, e, acting)
        for k, (node, literal) in enumerate(
            zip(encoding.elements[e], motion.next, strict=True), start=1
        ):
            words = f"{element.name} goes to {element.positions[k]} or beyond"
            found[node] = loosening.either(loosening.works(element.part), literal, words)
    return found


def _switched(encoding: Encoding) -> dict[int, int]:
    return {
        node: 2 * later
        for nodes, following in zip(encoding.switches, encoding.next_switches, strict=True)
        for node, later in zip(nodes, following, strict=True)
    }


def _remembered(encoding: Encoding, air: LooseAir) -> dict[int, int]:
    """What volumes remember (P4, P5): a pressure that they could have; and any may have leaked that
    was cut off."""
    graph = encoding.graph
    found: dict[int, int] = {}
    for volume, node in encoding.memory.items():
        may_be_empty = graph.either(air.low[volume], air.trapped[volume])
        comes_out_empty = graph.both(may_be_empty, encoding.comes_out_empty(volume))
        found[node] = graph.both(air.high[volume], comes_out_empty ^ 1)
    return found


def _system(
    meaning: LooseMeaning, own: System, following: dict[int, int], observers: Observers
) -> System:
    """Raises ValueError if its latches are not those of the circuit's own system."""
    graph, circuit, encoding = meaning.graph, meaning.circuit, meaning.encoding
    acting = {hand: 2 * node for hand, node in encoding.acting.items()}
    nodes = [node for many in encoding.elements for node in many]
    nodes += encoding.held.values()
    nodes += [node for many in encoding.switches for node in many]
    nodes += encoding.memory.values()
    nodes += [latch.node for latch in observers.latches]
    latches = [
        Latch(latch.name, node, latch.start, following[node])
        for latch, node in zip(own.latches, nodes, strict=True)
    ]
    if [latch.name for latch in latches] != [graph.names[node] for node in nodes]:
        raise ValueError("the loosened circuit has other latches than the circuit")
    steps, states = [], []
    for assumption in circuit.assumptions:
        condition = assumption.condition
        step = graph.both(
            meaning.surroundings(condition, acting),
            meaning.surroundings(condition, following=True),
        )
        steps.append((assumption.name, step))
        states.append((assumption.name, meaning.surroundings(condition)))
    return System(
        graph=graph,
        latches=tuple(latches),
        choices=tuple(encoding.choices),
        step_allowed=graph.all(literal for _, literal in steps),
        state_allowed=graph.all(literal for _, literal in states),
        definitions=(),
        assumptions=tuple(steps),
        encoding=own.encoding,
        events=(),
        motions=(),
        state_assumptions=tuple(states),
    )
