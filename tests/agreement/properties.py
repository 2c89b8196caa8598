"""Random assumptions and properties for a circuit that has everything else."""

from __future__ import annotations

from random import Random
from typing import Literal

import msgspec

from verifier.diagnostics.span import Span
from verifier.model.circuit import Assumption, Circuit, Instance, Property, Setpoint
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
from verifier.model.run import Run
from verifier.simulation.judging import violation
from verifier.simulation.steps import start

SPAN = Span("random.ilk", 1, 1, 1, 2)
Form = Literal["never", "always", "possible", "order", "recovers"]
FORMS: tuple[Form, ...] = ("never", "always", "possible", "order", "recovers")


def random_assumption(random: Random, circuit: Circuit) -> Circuit:
    """One assumption over hands and switches that the start meets; none if no draw does."""
    for attempt in range(5):
        atoms = [_surrounding(random, circuit) for _ in range(random.randint(1, 3))]
        condition = Not(All(tuple(atoms))) if random.random() < 0.6 else Any(tuple(atoms))
        if _met_at_start(circuit, condition):
            assumption = Assumption(f"care {attempt}", "a random habit", condition, SPAN)
            return msgspec.structs.replace(circuit, assumptions=(assumption,))
    return circuit


def _surrounding(random: Random, circuit: Circuit) -> Condition:
    if circuit.hands and random.random() < 0.5:
        return Hand(random.randrange(len(circuit.hands)))
    switch = random.randrange(len(circuit.switches))
    atom = Setting(switch, (random.randrange(len(circuit.switches[switch].values)),))
    return Not(atom) if random.random() < 0.3 else atom


def _met_at_start(circuit: Circuit, condition: Condition) -> bool:
    match condition:
        case Not(of=inner):
            return not _met_at_start(circuit, inner)
        case All(of=parts):
            return all(_met_at_start(circuit, part) for part in parts)
        case Any(of=parts):
            return any(_met_at_start(circuit, part) for part in parts)
        case Hand(hand=hand):
            return circuit.hands[hand].starts_on
        case Setting(switch=switch, values=values):
            return circuit.switches[switch].start in values
    raise TypeError(f"not about hands and switches: {condition}")


def random_properties(random: Random, circuit: Circuit) -> Circuit:
    """The circuit with one property of every form, some with two instances."""
    properties = []
    for form in FORMS:
        count = 2 if random.random() < 0.2 else 1
        labels = ("",) if count == 1 else ("i = 1", "i = 2")
        every = random.random() < (0.7 if form == "order" else 0.4) and form != "recovers"
        moment: Literal["at_rest", "every_moment"] = "every_moment" if every else "at_rest"
        for attempt in range(6):
            instances = tuple(_instance(random, circuit, form, label) for label in labels)
            found = Property(f"some {form}", form, moment, instances, SPAN)
            if attempt == 5 or not _decided_at_once(circuit, found):
                properties.append(found)
                break
    return msgspec.structs.replace(circuit, properties=tuple(properties))


def _decided_at_once(circuit: Circuit, property: Property) -> bool:
    """Whether the start already breaks or witnesses it. Such properties are kept rare."""
    run = Run(start(circuit), (), 0 if property.form == "recovers" else None)
    return any(violation(circuit, property, instance, run) for instance in property.instances)


def _instance(random: Random, circuit: Circuit, form: Form, label: str) -> Instance:
    """Triggers are those that the language gives each form: the conjuncts of a *never*, the `if` of
    an *always*, the condition of an *order*."""
    if form == "never":
        condition = _wanted(random, circuit)
        conjuncts = condition.of if isinstance(condition, All) else ()
        triggers = conjuncts if len(conjuncts) >= 2 else ()
        return _made(label, condition, triggers)
    if form == "always":
        when, then = _condition(random, circuit, 1), _condition(random, circuit, 1)
        if random.random() < 0.7:
            return _made(label, Any((Not(when), then)), (when,))
        return _made(label, then, ())
    if form == "order":
        condition, first = _condition(random, circuit, 1), _condition(random, circuit, 1)
        if random.random() < 0.5:
            # What goes out only with air stays out only so long: an order that stands a chance.
            element = random.randrange(len(circuit.elements))
            condition = _left_start(circuit, element)
            air = Setting(circuit.supplies[0].switch, (0, 2))
            first = Any((air, condition)) if random.random() < 0.7 else air
        plain = _made(label, condition, (condition,))
        return msgspec.structs.replace(plain, first=first, first_words="the other")
    plain = _made(label, _wanted(random, circuit), ())
    if form == "recovers":
        return msgspec.structs.replace(plain, procedure=_procedure(random, circuit))
    return plain


def _made(label: str, condition: Condition, triggers: tuple[Condition, ...]) -> Instance:
    words = tuple(f"trigger {i + 1}" for i in range(len(triggers)))
    return Instance(label, condition, "the condition", triggers, words)


def _procedure(random: Random, circuit: Circuit) -> tuple[Setpoint, ...]:
    found = []
    for _ in range(random.randint(1, 3)):
        if circuit.hands and random.random() < 0.6:
            hand = random.randrange(len(circuit.hands))
            found.append(Setpoint(hand, None, int(random.random() < 0.7), "work the hand"))
        else:
            switch = random.randrange(len(circuit.switches))
            value = random.randrange(len(circuit.switches[switch].values))
            found.append(Setpoint(None, switch, value, "see to the surroundings"))
    return tuple(found)


def _wanted(random: Random, circuit: Circuit) -> Condition:
    """Often several elements away from their start at once: that takes more than a step."""
    count = min(len(circuit.elements), random.choice((1, 2, 2, 3)))
    if random.random() < 0.5:
        return _condition(random, circuit, 2)
    chosen = sorted(random.sample(range(len(circuit.elements)), count))
    away = tuple(_left_start(circuit, element) for element in chosen)
    more = (_atom(random, circuit),) if random.random() < 0.4 else ()
    return All((*away, *more))


def _left_start(circuit: Circuit, element: int) -> Condition:
    """The element stands as far from its start as it can."""
    last = len(circuit.elements[element].positions) - 1
    return At(element, (0 if circuit.elements[element].start > last / 2 else last,))


def _condition(random: Random, circuit: Circuit, depth: int) -> Condition:
    draw = random.random()
    if depth == 0 or draw < 0.35:
        return _atom(random, circuit)
    if draw < 0.5:
        return Not(_condition(random, circuit, depth - 1))
    parts = tuple(_condition(random, circuit, depth - 1) for _ in range(random.randint(2, 3)))
    return All(parts) if draw < 0.85 else Any(parts)


def _atom(random: Random, circuit: Circuit) -> Condition:
    draw = random.random()
    held = [i for i, hand in enumerate(circuit.hands) if hand.held]
    if draw < 0.02:
        return AtRest()
    if draw < 0.04:
        return Always(random.random() < 0.5)
    if draw < 0.14 and held:
        return Hand(random.choice(held))
    if draw < 0.22:
        switch = random.randrange(len(circuit.switches))
        return Setting(switch, (random.randrange(len(circuit.switches[switch].values)),))
    if draw < 0.42 and circuit.networks:
        network = random.randrange(len(circuit.networks))
        start, end = random.sample(range(len(circuit.networks[network].places)), 2)
        return Path(network, start, end, random.random() < 0.6)
    if draw < 0.65:
        element = random.randrange(len(circuit.elements))
        count = len(circuit.elements[element].positions)
        return At(element, tuple(sorted(random.sample(range(count), random.randint(1, count - 1)))))
    volume = random.randrange(len(circuit.volumes))
    ports = circuit.volumes[volume].ports
    # Named by a port of it, the same reading: only a fault tells them apart.
    port = ports[volume % len(ports)] if ports and volume % 2 else None
    return High(volume, f"line {circuit.volumes[volume].name}", port)
