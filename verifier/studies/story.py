"""Telling a run: what was done, what moved and why, which lines gained or lost air."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.report.result import Ending, Event, Standing, Story
from verifier.simulation.cause import cause, cause_of
from verifier.simulation.events import Change, changes_of
from verifier.simulation.movement import at_rest
from verifier.simulation.pressures import Pressures, pressures
from verifier.studies.keeping import Told, keepers
from verifier.studies.names import element_name, line_names, line_of_end, spoken, switched


def tell(
    circuit: Circuit, run: Run, outcome: str, *, shortest: bool, loop_from: int | None = None
) -> Story:
    """The story of a replayed run that is free of idle events. loop_from: number of the state to
    which it comes back at its end."""
    events: list[Event] = []
    changes = changes_of(circuit, run)
    before = run.start
    for number, step in enumerate(run.steps):
        here = [change for change in changes if change.step == number]
        events += _events(circuit, before, step, here)
        before = step.state
    story = Story(
        events=tuple(events),
        steps=len(run.steps),
        shortest=shortest,
        end=_ending(circuit, run),
        outcome=outcome,
        procedure_from=run.procedure_from,
        loop_from=loop_from,
    )
    for keeper in keepers():
        keeper.story(story, Told(circuit, run, loop_from))
    return story


def _events(circuit: Circuit, before: State, step: Step, changes: list[Change]) -> Iterator[Event]:
    """The events of one step; the last of them carries what happened to the lines."""
    told = list(_told(circuit, before, step, changes))
    then, now = pressures(circuit, before), pressures(circuit, step.state)
    yield from told[:-1]
    for last in told[-1:]:
        yield structs.replace(
            last,
            gained=_turned(circuit, then, now, (True, False)),
            lost=_turned(circuit, then, now, (False, True)),
            between=_turned(circuit, then, now, (True, True)),
        )


def _told(circuit: Circuit, before: State, step: Step, changes: list[Change]) -> Iterator[Event]:
    """What failed, what people did, what moved. A hand and the element that it moves are one
    event."""
    kinds = ("act", "hand", "switch", "move", "leak")
    ordered = sorted(
        changes, key=lambda c: (not _is_fault(circuit, c), kinds.index(c.kind), c.thing)
    )
    moved = [c for c in ordered if c.kind == "move"]
    by_hand: dict[int, list[Change]] = {
        act.thing: [c for c in moved if _works(circuit, before, step, act.thing, c.thing)]
        for act in ordered
        if act.kind == "act"
    }
    done = [change for some in by_hand.values() for change in some]
    for change in ordered:
        if change.kind == "act":
            yield _worked(circuit, before, change, by_hand[change.thing])
        elif change not in done:
            yield _event(circuit, before, step, change)


def _works(circuit: Circuit, before: State, step: Step, hand: int, element: int) -> bool:
    """Whether the element moved because the hand of its own part acted."""
    control = circuit.hands[hand]
    if control.part != circuit.elements[element].part:
        return False
    return any(
        reason.what == "hand" and reason.own and reason.met and reason.value == control.label
        for reason in cause_of(circuit, before, step, element).reasons
    )


def _worked(circuit: Circuit, before: State, act: Change, moves: list[Change]) -> Event:
    hand = circuit.hands[act.thing]
    words = f"The operator: {circuit.parts[hand.part].name} is {spoken(hand.label)}"
    gone = " and ".join(_goes(circuit, before, move, own=True) for move in moves)
    told = f"{words} and {gone}" if gone else words
    return Event(act.step + 1, "operator", told, span=circuit.parts[hand.part].span)


def _goes(circuit: Circuit, before: State, move: Change, *, own: bool) -> str:
    element = circuit.elements[move.thing]
    was = spoken(element.positions[before.positions[move.thing]])
    name = element_name(circuit, move.thing)
    who = "" if own and name == circuit.parts[element.part].name else f"{name} "
    return f"{who}goes from {was} to {spoken(element.positions[move.value])}"


def _event(circuit: Circuit, before: State, step: Step, change: Change) -> Event:
    number, span = change.step + 1, _place(circuit, change)
    if change.kind == "hand":
        return Event(number, "operator", _held(circuit, change), span=span)
    if change.kind == "switch":
        return Event(number, "surroundings", _switched(circuit, change), span=span)
    if change.kind == "leak":
        return Event(number, "leak", _leaked(circuit, before, change.thing), span=span)
    if _is_fault(circuit, change):
        return Event(number, "fault", _struck(circuit, before, change), span=span)
    words = _goes(circuit, before, change, own=False)
    why = cause(circuit, before, step, change.thing)
    return Event(number, "movement", words, why, span=span)


def _place(circuit: Circuit, change: Change) -> Span | None:
    """Where the design states the thing; None of a volume that is of no line and no port."""
    if change.kind == "switch":
        return circuit.switches[change.thing].span
    if change.kind == "leak":
        volume = circuit.volumes[change.thing]
        if volume.line is not None:
            return circuit.lines[volume.line].span
        return circuit.ports[volume.ports[0]].span if volume.ports else None
    owner = circuit.hands if change.kind == "hand" else circuit.elements
    return circuit.parts[owner[change.thing].part].span


def _is_fault(circuit: Circuit, change: Change) -> bool:
    return change.kind == "move" and circuit.elements[change.thing].fault


def _struck(circuit: Circuit, before: State, change: Change) -> str:
    """A fault strikes; one that comes and goes passes off, or acts again (F2)."""
    told = circuit.elements[change.thing].doc
    if before.positions[change.thing] == 0:
        return f"Fault: {told}"
    return f"Fault: {told}, again" if change.value == 1 else f"The fault passes off: {told}"


def _held(circuit: Circuit, change: Change) -> str:
    hand = circuit.hands[change.thing]
    part, label = circuit.parts[hand.part].name, spoken(hand.label)
    if change.value:
        return f"The operator: {part} is {label} and held so"
    return f"The operator: {part} is let go, no longer {label}"


def _switched(circuit: Circuit, change: Change) -> str:
    words = switched(circuit, change.thing, change.value)
    if any(supply.switch == change.thing for supply in circuit.supplies):
        return f"{words[:1].upper()}{words[1:]}"
    return f"The surroundings: {words}"


def _leaked(circuit: Circuit, before: State, volume: int) -> str:
    name = circuit.volumes[volume].name
    if pressures(circuit, before).can_low[volume]:
        return f"{name}, in between until now, keeps no air"
    return f"The air kept in {name} leaks away"


def _turned(
    circuit: Circuit, then: Pressures, now: Pressures, reading: tuple[bool, bool]
) -> tuple[str, ...]:
    """Lines that read (high, low) now and did not before."""
    return line_names(
        circuit,
        (
            volume
            for volume in told_apart(circuit, now)
            if (now.can_high[volume], now.can_low[volume]) == reading
            and (then.can_high[volume], then.can_low[volume]) != reading
        ),
    )


def told_apart(circuit: Circuit, air: Pressures) -> list[int]:
    """All volumes but ends of lines that read as their line does."""
    found = []
    for volume in range(len(circuit.volumes)):
        line = line_of_end(circuit, volume)
        if line is None or _reading(air, line) != _reading(air, volume):
            found.append(volume)
    return found


def _reading(air: Pressures, volume: int) -> tuple[bool, bool]:
    return air.can_high[volume], air.can_low[volume]


def _ending(circuit: Circuit, run: Run) -> Ending:
    state, start = run.states[-1], run.start
    air = pressures(circuit, state)
    volumes = told_apart(circuit, air)
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
