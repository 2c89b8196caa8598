"""Taking out of a run every event that it does not need.

What an engine finds is shortest in steps, but things may happen on the way that do not matter.
Afterwards no single event can be removed, nor one together with the moves that only it made
possible: without it the run is not one of the circuit, or does not end as it should.
"""

from __future__ import annotations

from collections.abc import Callable

from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.simulation.events import Change, changes_of, state_after
from verifier.simulation.movement import next_positions
from verifier.simulation.pressures import pressures
from verifier.simulation.replay import ReplayError, replay

Judge = Callable[[Run], bool]
"""Whether a run, if it is allowed, ends as it should."""


# Changes times steps beyond which a run is left as it is: each change is tried by a run without it.
MOST_TRIED = 10_000

# Whatever people did goes first: a story with fewer actions is the better one.
_ORDER = {"act": 0, "hand": 0, "switch": 0, "leak": 1, "move": 2}


def without_idle_events(circuit: Circuit, run: Run, judge: Judge) -> Run:
    """The run with as many events taken out as can be, one after the other; a very long one as it
    is."""
    if len(changes_of(circuit, run)) * len(run.steps) > MOST_TRIED:
        return run
    shortened = True
    while shortened:
        shortened = False
        changes = changes_of(circuit, run)
        for change in sorted(changes, key=lambda c: (_ORDER[c.kind], -c.step)):
            shorter = _rebuilt(circuit, run, [c for c in changes if c != change], change.step)
            # The end of a run is judged sooner than all of its steps, and mostly spoilt.
            if judge(shorter) and _allowed(circuit, shorter):
                run, shortened = shorter, True
                break
    return run


def thinned(circuit: Circuit, run: Run, judge: Judge) -> Run:
    """The run with many events taken out at a time: halves of them, quarters, and so on. Cheap, and
    not all that can be spared is; `without_idle_events` takes out the rest."""
    size = len(changes_of(circuit, run)) // 2
    while size > 1:
        ordered = sorted(changes_of(circuit, run), key=lambda c: (_ORDER[c.kind], -c.step))
        place = 0
        while place < len(ordered):
            gone = ordered[place : place + size]
            left = [change for change in changes_of(circuit, run) if change not in gone]
            shorter = _rebuilt(circuit, run, left, min(change.step for change in gone))
            if judge(shorter) and _allowed(circuit, shorter):
                run = shorter
                ordered = sorted(changes_of(circuit, run), key=lambda c: (_ORDER[c.kind], -c.step))
            else:
                place += size
        size //= 2
    return run


def _rebuilt(circuit: Circuit, run: Run, changes: list[Change], first: int) -> Run:
    """The run with these changes only, which are its own in the steps before number `first`, as far
    as they are still possible one after the other.

    A move that nothing demands any more is left out with them; so are steps in which nothing is
    left to happen.
    """
    state = run.states[first]
    steps: list[Step] = []
    begin = run.procedure_from
    by_step: dict[int, list[Change]] = {}
    for change in changes:
        by_step.setdefault(change.step, []).append(change)
    for number in range(len(run.steps)):
        here = by_step.get(number, [])
        if number >= first:
            here = [change for change in here if not _already(state, change)]
            here = _possible(circuit, state, here)
        if not here:
            if run.procedure_from is not None and number < run.procedure_from:
                begin = (begin or 0) - 1
        elif number < first:
            steps.append(run.steps[number])
        else:
            acting = tuple(c.thing for c in here if c.kind == "act")
            state = state_after(circuit, state, here)
            steps.append(Step(acting, state))
    return Run(run.start, tuple(steps), begin)


def _possible(circuit: Circuit, state: State, changes: list[Change]) -> list[Change]:
    acting = tuple(c.thing for c in changes if c.kind == "act")
    air = pressures(circuit, state)
    return [
        c
        for c in changes
        if c.kind != "move" or c.value in next_positions(circuit, state, air, c.thing, acting)
    ]


def _already(state: State, change: Change) -> bool:
    standing = {"hand": state.hands, "switch": state.settings, "move": state.positions}
    values = standing.get(change.kind)
    return values is not None and int(values[change.thing]) == change.value


def _allowed(circuit: Circuit, run: Run) -> bool:
    try:
        replay(circuit, run)
    except ReplayError:
        return False
    return True
