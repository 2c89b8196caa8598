"""Random circuits with random faults woven in, small enough for explicit search."""

from __future__ import annotations

from random import Random

from tests.agreement.circuits import circuit_of
from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit, FaultEffect
from verifier.model.strikes import (
    SUPPLY_FAULTS,
    TUBE_FAULTS,
    Effect,
    Strike,
    SupplyEffect,
    TubeEffect,
)
from verifier.model.weaving import Woven, weave
from verifier.model.wellformed import check
from verifier.simulation.explore import Exploration

SPAN = Span("random.ilk", 1, 1, 1, 2)
MOST_STATES = 4_000


def woven_of(seed: int) -> Woven:
    """The random circuit of a seed with one to three faults, at most one or two of which strike."""
    random = Random(seed)
    for number in range(seed * 1000, seed * 1000 + 1000):
        circuit = circuit_of(number)
        if (
            not valid(circuit)
            or len(circuit.elements) > 3
            or not Exploration(circuit, 200).complete
        ):
            continue
        strikes = [random_strike(random, circuit, k) for k in range(random.choice((1, 1, 2, 2, 3)))]
        woven = weave(circuit, strikes, random.choice((1, 1, 2, None)))
        check(woven.circuit)
        if Exploration(woven.circuit, MOST_STATES).complete:
            return woven
    raise AssertionError(f"no circuit of seed {seed} is small enough")


def random_strike(random: Random, circuit: Circuit, number: int) -> Strike:
    effects = [_effect(random, circuit) for _ in range(random.choice((1, 1, 1, 2)))]
    passing = random.random() < 0.3
    stay = [k for k in range(len(effects)) if passing and random.random() < 0.3]
    return Strike(
        f"f{number}",
        "",
        tuple(effects),
        passing,
        "",
        SPAN,
        None,
        "random",
        f"f{number}",
        lasting=tuple(stay),
    )


def _effect(random: Random, circuit: Circuit) -> Effect:
    makers = [_of_element, _of_element]
    if circuit.tubes:
        makers += [_of_tube] * 3
    if any(len(part.ports) > 1 for part in circuit.parts):
        makers.append(_across)
    if circuit.ports:
        makers += [_at_port] * 2
    if circuit.hands:
        makers.append(_of_hand)
    if circuit.networks:
        makers.append(_of_network)
    if circuit.supplies:
        makers.append(_of_supply)
    return random.choice(makers)(random, circuit)


def _of_element(random: Random, circuit: Circuit) -> FaultEffect:
    index = random.randrange(len(circuit.elements))
    position = random.randrange(len(circuit.elements[index].positions))
    kind = random.choice(("sticks", "shifts", "no_spring"))
    return FaultEffect(kind, index, position if kind == "shifts" else None)


def _of_tube(random: Random, circuit: Circuit) -> TubeEffect:
    fault = random.choice(tuple(TUBE_FAULTS))
    off = random.choice((None, 0, 1)) if fault == "torn" else None
    return TubeEffect(random.randrange(len(circuit.tubes)), fault, off)


def _of_supply(random: Random, circuit: Circuit) -> SupplyEffect:
    fault = random.choice(tuple(SUPPLY_FAULTS))
    return SupplyEffect(random.randrange(len(circuit.supplies)), fault)


def _across(random: Random, circuit: Circuit) -> FaultEffect:
    part = random.choice([part for part in circuit.parts if len(part.ports) > 1])
    ends = tuple(random.sample(part.ports, 2))
    kind = random.choice(("leaks", "passes", "blocks"))
    return FaultEffect(kind, ports=ends, one_way=kind != "blocks" and random.random() < 0.3)


def _at_port(random: Random, circuit: Circuit) -> FaultEffect:
    port = random.randrange(len(circuit.ports))
    return FaultEffect(random.choice(("vents", "bursts", "blocks")), ports=(port,))


def _of_hand(random: Random, circuit: Circuit) -> FaultEffect:
    return FaultEffect(random.choice(("held", "dead")), hand=random.randrange(len(circuit.hands)))


def _of_network(random: Random, circuit: Circuit) -> FaultEffect:
    network = random.choice(circuit.networks)
    ends = tuple(random.sample(network.places, 2))
    kind = random.choice(("passes", "blocks"))
    return FaultEffect(kind, medium=network.medium, places=ends)


def valid(circuit: Circuit) -> bool:
    """Weaving is tried on circuits that a design can elaborate to."""
    try:
        check(circuit)
    except ValueError:
        return False
    return True
