"""Runs of the simulator as scripts, step by step, so that carrying one out gives the run again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from verifier.model.circuit import Circuit
from verifier.model.names import element_name
from verifier.model.run import Run, State, Step
from verifier.runs.facts import Misread
from verifier.runs.names import Names
from verifier.runs.script import (
    NOWHERE,
    Begins,
    Does,
    Event,
    Leaks,
    Line,
    Moves,
    PassesOff,
    Sets,
    Strikes,
    Works,
)
from verifier.runs.steps import moved_by
from verifier.runs.verbs import RELEASE, supply_verb, verb_of
from verifier.simulation.events import Change, changes_of


def recorded(circuit: Circuit, run: Run) -> tuple[Line, ...]:
    """The lines of a run; faults are those that are woven into its circuit."""
    recorder = Recorder(circuit)
    changes = changes_of(circuit, run)
    lines: list[Line] = []
    before = run.start
    for number, step in enumerate(run.steps):
        if number == run.procedure_from:
            lines.append(Line(Begins()))
        lines += recorder.step(before, step, [one for one in changes if one.step == number])
        before = step.state
    if run.procedure_from == len(run.steps):
        lines.append(Line(Begins()))
    return tuple(lines)


class Recorder:
    """Puts steps of one circuit into words."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.names = Names(circuit)

    def step(self, before: State, step: Step, changes: Sequence[Change]) -> list[Line]:
        """Lines that happen together."""
        moved = {one.thing: one.value for one in changes if one.kind == "move"}
        byhand = moved_by(self.circuit, before, step.acting)
        by_themselves = all(moved.get(e) == position for e, position in byhand.items())
        events: list[Event] = []
        for kind in ("act", "hand", "switch", "move", "leak"):
            for one in changes:
                if one.kind != kind or (by_themselves and kind == "move" and one.thing in byhand):
                    continue
                events += self._event(before, one, briefly=not by_themselves)
        return [Line(event, together=number > 0) for number, event in enumerate(events)]

    def _event(self, before: State, change: Change, *, briefly: bool) -> Iterator[Event]:
        if change.kind == "act":
            yield self._hand(before, change.thing, on=True, briefly=briefly)
        elif change.kind == "hand":
            yield self._hand(before, change.thing, on=bool(change.value), briefly=False)
        elif change.kind == "switch":
            yield self._switch(change)
        elif change.kind == "leak":
            yield Leaks(self.circuit.volumes[change.thing].name)
        else:
            yield self._move(change)

    def _hand(self, before: State, hand: int, *, on: bool, briefly: bool) -> Event:
        control = self.circuit.hands[hand]
        part = self.circuit.parts[control.part].name
        verb = verb_of(control.label) if on else RELEASE[0]
        try:
            if verb and self.names.hand(verb, part, before.hands, NOWHERE) == (hand, on):
                return Does(verb, part, briefly)
        except Misread:
            pass  # the verb does not say which
        return Works(part, control.label, briefly, on)

    def _switch(self, change: Change) -> Event:
        switch = self.circuit.switches[change.thing]
        value = switch.values[change.value]
        for supply in self.circuit.supplies:
            if supply.switch == change.thing:
                return Does(supply_verb(value), supply.name)
        return Sets(switch.name, value)

    def _move(self, change: Change) -> Event:
        element = self.circuit.elements[change.thing]
        if element.fault:
            name = element.name.removeprefix("fault ")
            return Strikes(name) if change.value == 1 else PassesOff(name)
        name = element_name(self.circuit, change.thing)
        if self.names.elements.get(name) != change.thing:
            name = element.name
        return Moves(name, element.positions[change.value])
