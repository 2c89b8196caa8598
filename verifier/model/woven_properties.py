"""Properties of a circuit with faults woven in (F3)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import structs

from verifier.model.acting import Acting, none_of
from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.condition import All, Any, Condition, Hand, High, Not
from verifier.model.simplify import all_of, any_of
from verifier.model.strikes import Effect
from verifier.model.woven_air import WovenAir
from verifier.model.woven_moves import Effects, Sides, effects_on_hands


def woven_properties(
    circuit: Circuit, effects: Sequence[tuple[Effect, Acting]], air: WovenAir, chance: int
) -> tuple[Property, ...]:
    """What they say of a port that a fault can cut off is said of the port's own side. A hand that
    a fault keeps on, or makes useless, is seen as it is worked or as it acts, either way. chance: a
    volume that is read either way."""
    put = _Put(circuit, Sides(circuit, air.moved), effects_on_hands(effects), chance)
    return tuple(
        structs.replace(
            item, tolerating=None, instances=tuple(put.instance(one) for one in item.instances)
        )
        for item in circuit.properties
    )


class _Put:
    """Replaces what is read; what conditions have in common they have in common afterwards."""

    def __init__(
        self, circuit: Circuit, sides: Sides, of_hands: Mapping[int, Effects], chance: int
    ) -> None:
        self._circuit = circuit
        self._sides = sides
        self._of_hands = of_hands
        self._chance = chance
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
            case Hand(hand=hand) if hand in self._of_hands:
                return self._seen(condition)
            case _:
                return condition

    def _seen(self, hand: Hand) -> Condition:
        """A door that is jammed open while nobody holds it open, and a knob that is pulled and does
        nothing: whether that is open, or pulled, is for the reading to say."""
        effects = self._of_hands[hand.hand]
        held = [fault.condition for effect, fault in effects if effect.effect == "held"]
        dead = none_of(fault for effect, fault in effects if effect.effect == "dead")
        either = High(self._chance, f"hand {self._circuit.hands[hand.hand].name}")
        seen = any_of((hand, all_of((any_of(held), either))))
        return all_of((seen, any_of((all_of(dead), either))))
