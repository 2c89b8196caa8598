"""Which properties ask the same of a circuit when its things change places."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from msgspec import Struct

from verifier.model.circuit import Circuit, Instance, Property
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

MOST_PARTS = 200
"""Of a condition that is taken apart; what has more is taken as one."""


class Places(Struct, frozen=True):
    """Of each thing, by number, what it becomes."""

    ports: Sequence[int]
    volumes: Sequence[int]
    elements: Sequence[int]
    hands: Sequence[int]
    switches: Sequence[int]
    places: Sequence[Sequence[int]]


def kept_by(
    circuit: Circuit,
    ports: Sequence[int],
    volumes: Sequence[int],
    elements: Sequence[int],
    hands: Sequence[int],
    switches: Sequence[int],
    places: Sequence[Sequence[int]],
) -> frozenset[int]:
    """Numbers of the properties whose cases the map takes to its cases: all demands of one, taken
    together, and all its triggers, are then the same. One that tolerates faults of certain names,
    or of a circuit that says things of single faults, is not looked at."""
    there = Places(ports, volumes, elements, hands, switches, places)
    here = Places(
        range(len(ports)),
        range(len(volumes)),
        range(len(elements)),
        range(len(hands)),
        range(len(switches)),
        [range(len(one)) for one in places],
    )
    named = bool(circuit.causes or circuit.exclusions or circuit.rates)
    return frozenset(
        number
        for number, item in enumerate(circuit.properties)
        if not (item.tolerating and (named or item.tolerating.faults is not None))
        and _asked(item, here) == _asked(item, there)
    )


def _asked(item: Property, places: Places) -> frozenset[Hashable]:
    return frozenset(case for one in item.instances for case in _cases(item, one, places))


def _cases(item: Property, instance: Instance, places: Places) -> list[Hashable]:
    """What is demanded of one case, apart as far as one can demand it apart, and its triggers."""
    conditions = [instance.condition]
    if item.form in ("always", "recovers"):
        conditions = _apart(instance.condition, All)
    elif item.form == "never":
        conditions = _apart(instance.condition, Any)
    first = None if instance.first is None else _told(instance.first, places)
    procedure = tuple(
        (
            None if one.hand is None else places.hands[one.hand],
            None if one.switch is None else places.switches[one.switch],
            one.value,
        )
        for one in instance.procedure
    )
    found: list[Hashable] = [("demand", _told(one, places), first, procedure) for one in conditions]
    found += [("trigger", _told(one, places), first, procedure) for one in instance.triggers]
    return found


def _apart(condition: Condition, joint: type[All] | type[Any]) -> list[Condition]:
    """Conditions that, joined so, are this one: `a or (b and c)` is `a or b` and `a or c`."""
    other: type[All] | type[Any] = Any if joint is All else All
    waiting: list[Condition] = [condition]
    found: list[Condition] = []
    while waiting:
        one = waiting.pop()
        if isinstance(one, joint):
            waiting += one.of
            continue
        inner = None
        if isinstance(one, other) and len(waiting) + len(found) < MOST_PARTS:
            inner = next((k for k, part in enumerate(one.of) if isinstance(part, joint)), None)
        if inner is None or not isinstance(one, All | Any):
            found.append(one)
            continue
        part = one.of[inner]
        assert isinstance(part, All | Any)
        waiting += [other((*one.of[:inner], of, *one.of[inner + 1 :])) for of in part.of]
    return found


def _told(condition: Condition, places: Places) -> Hashable:
    """The condition of what its things become; parts of a conjunction or disjunction in no order.
    Who reads a volume in a property is the volume itself."""
    match condition:
        case Not(of=inner):
            return ("not", _told(inner, places))
        case All(of=parts):
            return ("all", frozenset(_told(one, places) for one in _flat(parts, All)))
        case Any(of=parts):
            return ("any", frozenset(_told(one, places) for one in _flat(parts, Any)))
        case High(volume=volume, port=port):
            return ("high", places.volumes[volume], None if port is None else places.ports[port])
        case At(element=element, positions=positions):
            return ("at", places.elements[element], positions)
        case Hand(hand=hand):
            return ("hand", places.hands[hand])
        case Setting(switch=switch, values=values):
            return ("setting", places.switches[switch], values)
        case Path(network=network, start=start, end=end, directed=directed):
            ends = (places.places[network][start], places.places[network][end])
            return ("path", network, ends if directed else frozenset(ends))
        case AtRest():
            return "at rest"
        case Always(value=value):
            return value


def _flat(parts: tuple[Condition, ...], joint: type[All] | type[Any]) -> list[Condition]:
    found: list[Condition] = []
    for one in parts:
        found += _flat(one.of, joint) if isinstance(one, joint) else [one]
    return found
