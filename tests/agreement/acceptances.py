"""Races that a random circuit accepts: any elements, after any event or with some surroundings."""

from __future__ import annotations

from random import Random

from msgspec import structs

from verifier.diagnostics.span import Span
from verifier.model.circuit import Acceptance, Circuit
from verifier.model.condition import Always, Condition, Hand, Not, Setting

NOWHERE = Span("random", 1, 1, 1, 1)


def random_acceptances(random: Random, circuit: Circuit) -> Circuit:
    found = []
    for k in range(random.choice((1, 1, 2))):
        count = random.randint(1, len(circuit.elements))
        some = tuple(sorted(random.sample(range(len(circuit.elements)), count)))
        condition = Always(True) if random.random() < 0.5 else _surroundings(random, circuit)
        found.append(Acceptance(some, condition, f"race {k}", f"reason {k}", NOWHERE))
    return structs.replace(circuit, accepted=tuple(found))


def _surroundings(random: Random, circuit: Circuit) -> Condition:
    held = [h for h, hand in enumerate(circuit.hands) if hand.held]
    if held and random.random() < 0.5:
        hand = Hand(random.choice(held))
        return hand if random.random() < 0.5 else Not(hand)
    switch = random.randrange(len(circuit.switches))
    return Setting(switch, (random.randrange(len(circuit.switches[switch].values)),))
