"""Taking out of a run every event that it does not need."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.run import Run, State, Step
from verifier.simulation.checking import check_state, check_step
from verifier.simulation.judging import violation
from verifier.simulation.pressures import driven, pressures
from verifier.simulation.steps import leaked


class Event(Struct, frozen=True, order=True):
    """One thing that happens in step number `step`, from 0: a momentary hand acts, a held hand or a
    switch is put to `value`, an element goes to position `value`, or a trapped volume leaks empty.
    """

    step: int
    what: Literal["acts", "hand", "switch", "moves", "leaks"]
    index: int
    value: int = 0


def without_idle_events(circuit: Circuit, property: Property, instance: Instance, run: Run) -> Run:
    """A run that ends as `run` does and from which no single event can be left out.

    `run` is allowed, and its last state breaks the property or is the witness of a *possible*; the
    same is true of the result. Steps in which nothing is left to happen are dropped. Raises
    ValueError if `run` shows nothing.
    """
    if not violation(circuit, property, instance, run):
        raise ValueError("the run neither breaks the property nor is its witness")
    while (shorter := _one_event_less(circuit, property, instance, run)) is not None:
        run = shorter
    return run


def events_of(circuit: Circuit, run: Run) -> tuple[Event, ...]:
    """Everything that happens in a run, in order."""
    found: list[Event] = []
    for number, (before, step) in enumerate(zip(run.states, run.steps, strict=False)):
        after = step.state
        found += [Event(number, "acts", hand) for hand in step.acting]
        found += [Event(number, "hand", *put) for put in _changes(before.hands, after.hands)]
        found += [
            Event(number, "switch", *put) for put in _changes(before.settings, after.settings)
        ]
        found += [
            Event(number, "moves", *put) for put in _changes(before.positions, after.positions)
        ]
        found += [Event(number, "leaks", volume) for volume in leaked(circuit, before, after)]
    return tuple(found)


def _changes(before: tuple[int, ...], after: tuple[int, ...]) -> list[tuple[int, int]]:
    pairs = zip(before, after, strict=True)
    return [(index, int(new)) for index, (old, new) in enumerate(pairs) if old != new]


def _one_event_less(
    circuit: Circuit, property: Property, instance: Instance, run: Run
) -> Run | None:
    """The run without some one event, or with an empty step dropped; None if nothing can go."""
    events = events_of(circuit, run)
    for left_out in (None, *reversed(events)):
        shorter = _rebuilt(circuit, run, [event for event in events if event != left_out])
        if shorter is None or shorter == run:
            continue
        if violation(circuit, property, instance, shorter):
            return shorter
    return None


def _rebuilt(circuit: Circuit, run: Run, events: list[Event]) -> Run | None:
    """The run in which only these events happen; None if the rules do not allow it."""
    steps: list[Step] = []
    before, procedure_from = run.start, 0
    for number, original in enumerate(run.steps):
        mine = [event for event in events if event.step == number]
        step = _step(circuit, before, original.state, mine)
        if step is None:
            return None
        if step.state != before:
            steps.append(step)
            before = step.state
            procedure_from += run.procedure_from is not None and number < run.procedure_from
    return Run(run.start, tuple(steps), None if run.procedure_from is None else procedure_from)


def _step(circuit: Circuit, before: State, wanted: State, events: list[Event]) -> Step | None:
    """The step in which these events happen. What a volume at an in-between pressure keeps is no
    event; it is as in `wanted` where it can be."""
    hands, settings = list(before.hands), list(before.settings)
    positions, leaks, acting = list(before.positions), set(), []
    for event in events:
        if event.what == "acts":
            acting.append(event.index)
        elif event.what == "hand":
            hands[event.index] = bool(event.value)
        elif event.what == "switch":
            settings[event.index] = event.value
        elif event.what == "moves":
            positions[event.index] = event.value
        else:
            leaks.add(event.index)
    air = pressures(circuit, before)
    trapped = driven(circuit, tuple(positions), tuple(settings)).trapped
    memory = [
        kept and air.can_high[v] and v not in leaks and (wanted.memory[v] or not air.can_low[v])
        for v, kept in enumerate(trapped)
    ]
    state = State(tuple(positions), tuple(hands), tuple(settings), tuple(memory))
    step = Step(tuple(acting), state)
    return None if check_state(circuit, state) or check_step(circuit, before, step) else step
