"""Properties of a circuit with faults woven in (F3)."""

from __future__ import annotations

from msgspec import structs

from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.condition import All, Any, Condition, High, Not
from verifier.model.woven_air import WovenAir
from verifier.model.woven_moves import Sides


def woven_properties(circuit: Circuit, air: WovenAir) -> tuple[Property, ...]:
    """What they say of a port that a fault can cut off is said of the port's own side."""
    put = _Put(Sides(circuit, air.moved))
    return tuple(
        structs.replace(
            item, tolerating=None, instances=tuple(put.instance(one) for one in item.instances)
        )
        for item in circuit.properties
    )


class _Put:
    """Replaces readings; what conditions have in common they have in common afterwards."""

    def __init__(self, sides: Sides) -> None:
        self._sides = sides
        # The condition is kept with its successor, so that its id is not given out again.
        self._done: dict[int, tuple[Condition, Condition]] = {}

    def instance(self, one: Instance) -> Instance:
        return structs.replace(
            one,
            condition=self._condition(one.condition),
            triggers=tuple(map(self._condition, one.triggers)),
            first=None if one.first is None else self._condition(one.first),
        )

    def _condition(self, condition: Condition) -> Condition:
        known = self._done.get(id(condition))
        if known is None:
            known = self._done[id(condition)] = (condition, self._of(condition))
        return known[1]

    def _of(self, condition: Condition) -> Condition:
        match condition:
            case Not(of=inner):
                return Not(self._condition(inner))
            case All(of=parts):
                return All(tuple(map(self._condition, parts)))
            case Any(of=parts):
                return Any(tuple(map(self._condition, parts)))
            case High():
                return self._sides.of(condition)
            case _:
                return condition
