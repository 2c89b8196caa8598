"""What must never be while somebody tests: in all lanes at once, a superset."""

from __future__ import annotations

from verifier.calm.fleet import Fleet, Look
from verifier.calm.showing import may_flow
from verifier.model.circuit import Circuit, Property
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    Condition,
    Hand,
    High,
    Not,
    Path,
    Setting,
)
from verifier.model.simplify import atoms


def hazards_of(circuit: Circuit, names: tuple[str, ...]) -> tuple[Property, ...]:
    """The properties named; without names, each *never* and *always* that speaks of product that
    flows. Raises ValueError for a name that there is not."""
    known = {one.name: one for one in circuit.properties}
    for name in names:
        if name not in known or known[name].form not in ("never", "always"):
            raise ValueError(f'there is no *never* or *always* "{name}"')
    if names:
        return tuple(known[name] for name in names)
    return tuple(
        one
        for one in circuit.properties
        if one.form in ("never", "always")
        and one.tolerating is None
        and any(_flows(circuit, instance.condition) for instance in one.instances)
    )


def _flows(circuit: Circuit, condition: Condition) -> bool:
    return any(
        isinstance(atom, Path)
        and atom.directed
        and circuit.networks[atom.network].medium == "liquid"
        for atom in atoms(condition)
    )


def broken_ways(fleet: Fleet, look: Look, item: Property) -> int:
    """The ways to be at rest in which the property may be broken."""
    found = 0
    for one in item.instances:
        bad = one.condition if item.form == "never" else Not(one.condition)
        found |= _may(fleet, look, bad)
    return found & look.rest


def _may(fleet: Fleet, look: Look, condition: Condition) -> int:
    every, air = look.layout.every, look.air
    match condition:
        case Always(value=constant):
            return every if constant else 0
        case Not(of=inner):
            return _may_not(fleet, look, inner)
        case All(of=parts):
            found = every
            for part in parts:
                found &= _may(fleet, look, part)
            return found
        case Any(of=parts):
            found = 0
            for part in parts:
                found |= _may(fleet, look, part)
            return found
        case High():
            return air.high[_side(fleet, condition)]
        case At(element=element, positions=positions):
            found = 0
            for position in positions:
                found |= look.standing(element, position)
            return found
        case Hand(hand=hand):
            return look.layout.place(fleet.hand + hand, 1)
        case Setting(switch=switch, values=values):
            found = 0
            for value in values:
                found |= look.layout.place(fleet.switch + switch, value)
            return found
        case Path():
            return may_flow(fleet, look, condition, surely=False)
        case _:
            return every


def _may_not(fleet: Fleet, look: Look, condition: Condition) -> int:
    every, air = look.layout.every, look.air
    match condition:
        case Always(value=value):
            return 0 if value else every
        case Not(of=inner):
            return _may(fleet, look, inner)
        case All(of=parts):
            return _may(fleet, look, Any(tuple(Not(part) for part in parts)))
        case Any(of=parts):
            return _may(fleet, look, All(tuple(Not(part) for part in parts)))
        case High():
            return air.low[_side(fleet, condition)]
        case At(element=element, positions=positions):
            others = (k for k in range(fleet.counts[element]) if k not in positions)
            found = 0
            for position in others:
                found |= look.standing(element, position)
            return found
        case Hand() | Setting():
            return every & ~_may(fleet, look, condition)
        case Path():
            return every & ~may_flow(fleet, look, condition, surely=True)
        case _:
            return 0


def _side(fleet: Fleet, atom: High) -> int:
    """A port's own side, where a fault can cut that off from its line (F3)."""
    if atom.port is None:
        return atom.volume
    return fleet.trailer.circuit.ports[atom.port].volume
