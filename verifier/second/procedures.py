"""Procedures of *recovers* properties (Q6)."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from verifier.model.circuit import Instance, Setpoint
from verifier.second.formulas import FALSE, TRUE, Formula, Variable
from verifier.second.properties import Properties
from verifier.second.variables import ACTS, BEGIN, BEGUN, HELD, HELD_AFTER, SET, SET_AFTER, Facts


class Procedure(Struct, frozen=True):
    """Phase k of n puts setting k; phase n + 1 puts nothing.

    under_way: per phase, that it or a later one is under way in the step.
    operated: for each variable that tells what hands and switches do in a step of the circuit, what
    it is in a step of a run that may turn into the procedure.
    over: in a state at rest the procedure may be over.   bad: so, and the condition may be false.
    """

    under_way: tuple[Formula, ...]
    operated: dict[Variable, Formula]
    over: Formula
    bad: Formula


def procedure(properties: Properties, instance: Instance) -> Procedure:
    return _Procedure(properties, instance).told()


class _Procedure:
    def __init__(self, properties: Properties, instance: Instance) -> None:
        self.properties = properties
        self.facts: Facts = properties.facts
        self.formulas = self.facts.formulas
        self.instance = instance
        self.settings = instance.procedure

    def told(self) -> Procedure:
        formulas, judge = self.formulas, self.properties.judge
        under_way = self._following(lambda k: self.facts.variable(BEGIN, k))
        could_be = self._following(lambda k: TRUE)
        over = formulas.both(could_be[-1], self.properties.at_rest)
        return Procedure(
            under_way,
            self._operated(under_way),
            over,
            formulas.both(over, -judge.every(self.instance.condition)),
        )

    def _following(self, begins: Callable[[int], Formula]) -> tuple[Formula, ...]:
        """Per phase, that it or a later one is reached before the step: it had begun, or the one
        before it may end and it begins now. Several may begin one after the other."""
        formulas = self.formulas
        begun = [self.facts.variable(BEGUN, k) for k in range(len(self.settings) + 1)]
        found: list[Formula] = []
        for k in range(len(begun)):
            had = formulas.all_of(begun[: k + 1])
            before = found[-1] if found else TRUE
            ends = self._may_end(self.settings[k - 1]) if k else TRUE
            found.append(formulas.either(had, formulas.all_of((before, ends, begins(k)))))
        return tuple(found)

    def _may_end(self, setting: Setpoint) -> Formula:
        """What the phase puts is put, and no element must move, its momentary hand acting."""
        facts, formulas = self.facts, self.formulas
        acting: int | None = None
        put = TRUE
        if setting.switch is not None:
            put = facts.setting(setting.switch, (setting.value,))
        elif setting.hand is not None and facts.circuit.hands[setting.hand].held:
            on = facts.variable(HELD, setting.hand)
            put = on if setting.value else -on
        elif setting.value:
            acting = setting.hand
        if acting is None:
            return formulas.both(put, self.properties.at_rest)
        return self.properties.at_rest_while(acting)

    def _operated(self, under_way: tuple[Formula, ...]) -> dict[Variable, Formula]:
        """Before the procedure all is free; in it, only what the phase puts changes."""
        circuit = self.facts.circuit
        made: dict[Variable, Formula] = {}
        for h, hand in enumerate(circuit.hands):
            says = HELD_AFTER if hand.held else ACTS
            left = self.facts.variable(HELD, h) if hand.held else FALSE
            puts = [(k, bool(s.value)) for k, s in enumerate(self.settings) if s.hand == h]
            made[says, h, 0] = self._mixed(under_way, (says, h, 0), left, puts)
        for s, switch in enumerate(circuit.switches):
            chosen = [(k, one.value) for k, one in enumerate(self.settings) if one.switch == s]
            for bit in range(len(switch.values) - 1):
                # A value is written with its own bit true and no other.
                puts = [(k, value == bit) for k, value in chosen]
                left = self.facts.variable(SET, s, bit)
                variable = (SET_AFTER, s, bit)
                made[variable] = self._mixed(under_way, variable, left, puts)
        return made

    def _mixed(
        self,
        under_way: tuple[Formula, ...],
        variable: Variable,
        left: Formula,
        puts: list[tuple[int, bool]],
    ) -> Formula:
        """The variable itself before the procedure; `left` in it, but for phases that put it."""
        formulas = self.formulas
        own = self.facts.variable(*variable)
        told = [formulas.both(-under_way[0], own)]
        quiet = under_way[0]
        for k, value in puts:
            here = formulas.both(under_way[k], -under_way[k + 1])
            quiet = formulas.both(quiet, -here)
            if value:
                told.append(here)
        return formulas.any_of([*told, formulas.both(quiet, left)])
