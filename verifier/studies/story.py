"""Telling a run: what was done, what moved and why, which lines gained or lost air."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.report.result import Ending, Event, Standing, Story
from verifier.simulation.cause import cause
from verifier.simulation.movement import at_rest
from verifier.simulation.pressures import Pressures, pressures
from verifier.studies.idle import Change, changes_of
from verifier.studies.names import element_name, line_names, spoken


def tell(circuit: Circuit, run: Run, outcome: str, *, shortest: bool) -> Story:
    """The story of a replayed run that is free of idle events."""
    events: list[Event] = []
    changes = changes_of(circuit, run)
    before = run.start
    for number, step in enumerate(run.steps):
        here = [change for change in changes if change.step == number]
        events += _events(circuit, before, step, here)
        before = step.state
    return Story(
        events=tuple(events),
        steps=len(run.steps),
        shortest=shortest,
        end=_ending(circuit, run),
        outcome=outcome,
        procedure_from=run.procedure_from,
    )


def _events(circuit: Circuit, before: State, step: Step, changes: list[Change]) -> Iterator[Event]:
    """The events of one step; the last of them carries what happened to the lines."""
    order = {"act": 0, "hand": 1, "switch": 2, "move": 3, "leak": 4}
    told = [
        _event(circuit, before, step, change)
        for change in sorted(changes, key=lambda change: (order[change.kind], change.thing))
    ]
    then, now = pressures(circuit, before), pressures(circuit, step.state)
    for place, event in enumerate(told):
        if place < len(told) - 1:
            yield event
        else:
            yield Event(
                step=event.step,
                by=event.by,
                words=event.words,
                cause=event.cause,
                gained=_turned(circuit, then, now, (True, False)),
                lost=_turned(circuit, then, now, (False, True)),
                between=_turned(circuit, then, now, (True, True)),
            )


def _event(circuit: Circuit, before: State, step: Step, change: Change) -> Event:
    number = change.step + 1
    if change.kind == "act":
        hand = circuit.hands[change.thing]
        part = circuit.parts[hand.part].name
        return Event(number, "operator", f"The operator: {part} is {spoken(hand.label)}")
    if change.kind == "hand":
        return Event(number, "operator", _held(circuit, change))
    if change.kind == "switch":
        return Event(number, "surroundings", _switched(circuit, change))
    if change.kind == "leak":
        return Event(number, "leak", _leaked(circuit, before, change.thing))
    element = circuit.elements[change.thing]
    was = element.positions[before.positions[change.thing]]
    words = (
        f"{element_name(circuit, change.thing)} goes from {spoken(was)} to "
        f"{spoken(element.positions[change.value])}"
    )
    return Event(number, "movement", words, cause(circuit, before, step, change.thing))


def _held(circuit: Circuit, change: Change) -> str:
    hand = circuit.hands[change.thing]
    part, label = circuit.parts[hand.part].name, spoken(hand.label)
    if change.value:
        return f"The operator: {part} is {label} and held so"
    return f"The operator: {part} is let go, no longer {label}"


def _switched(circuit: Circuit, change: Change) -> str:
    switch = circuit.switches[change.thing]
    value = switch.values[change.value]
    for supply in circuit.supplies:
        if supply.switch == change.thing:
            told = {"present": "gives air", "absent": "gives no air", "weak": "is weak"}
            return f"The supply {supply.name} {told[value]}"
    return f"The surroundings: {switch.name} is {spoken(value)}"


def _leaked(circuit: Circuit, before: State, volume: int) -> str:
    name = circuit.volumes[volume].name
    if pressures(circuit, before).can_low[volume]:
        return f"{name}, at an in-between pressure, ends up without air"
    return f"The air kept in {name} leaks away"


def _turned(
    circuit: Circuit, then: Pressures, now: Pressures, reading: tuple[bool, bool]
) -> tuple[str, ...]:
    """Lines that read (high, low) now and did not before."""
    return line_names(
        circuit,
        (
            volume
            for volume in range(len(circuit.volumes))
            if (now.can_high[volume], now.can_low[volume]) == reading
            and (then.can_high[volume], then.can_low[volume]) != reading
        ),
    )


def _ending(circuit: Circuit, run: Run) -> Ending:
    state, start = run.states[-1], run.start
    air = pressures(circuit, state)
    volumes = range(len(circuit.volumes))
    high = [v for v in volumes if air.can_high[v] and not air.can_low[v]]
    return Ending(
        moved=tuple(_standing(circuit, start, state)),
        high=line_names(circuit, high),
        low=line_names(circuit, (v for v in volumes if not air.can_high[v])),
        between=line_names(circuit, (v for v in volumes if air.either_way(v))),
        kept=line_names(circuit, (v for v in high if air.trapped[v])),
        at_rest=at_rest(circuit, state),
    )


def _standing(circuit: Circuit, start: State, state: State) -> Iterator[Standing]:
    """Hands, switches and elements that do not stand where they did at the start."""
    for hand, was, on in zip(circuit.hands, start.hands, state.hands, strict=True):
        if was != on:
            yield Standing(
                circuit.parts[hand.part].name,
                f"{'held' if on else 'no longer'} {spoken(hand.label)}",
            )
    for switch, before, now in zip(circuit.switches, start.settings, state.settings, strict=True):
        if before != now:
            yield Standing(switch.name, spoken(switch.values[now]))
    for index, element in enumerate(circuit.elements):
        if start.positions[index] != state.positions[index]:
            position = element.positions[state.positions[index]]
            yield Standing(element_name(circuit, index), spoken(position))
