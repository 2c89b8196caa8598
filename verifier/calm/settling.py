"""All that a rig can come to, hands and surroundings standing still, whatever moves first."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from msgspec import Struct

from verifier.calm.rig import Rig, State

MOST_STATES = 20_000
STEPS_EACH = 20
Belief = frozenset[State]
"""The states that a rig can be in, when somebody looks."""
Came = dict[State, State | None]


class TooMany(Exception):
    """More states than are looked at. The message names the limit."""


class Settled(Struct, frozen=True):
    """ends: states at rest; and, where it can go round without ever coming to rest, all states of
    such a round.   restless: it can.   came: of each state reached the one before, None for those
    it began with.
    """

    ends: Belief
    restless: bool
    came: Came


def settle(
    rig: Rig,
    begun: Iterable[State],
    free: Sequence[tuple[bool, int, int]] = (),
    most: int = MOST_STATES,
) -> Settled:
    """From any of these states. free: hands (True, number, values) and switches (False, number,
    values) that somebody may work meanwhile, at any moment. Raises TooMany."""
    came: Came = dict.fromkeys(sorted(begun))
    waiting = list(came)
    ends = []
    onward: dict[State, list[State]] = {}
    steps = 0
    for state in waiting:
        steps += _width(rig, state, free)
        if steps > STEPS_EACH * most:
            raise TooMany(f"more than {STEPS_EACH * most} steps between two looks")
        found = list(rig.still(state)) if not free else list(_freely(rig, state, free))
        fresh = [after for after in found if after not in came]
        came.update(dict.fromkeys(fresh, state))
        waiting += fresh
        if len(waiting) > most:
            raise TooMany(f"more than {most} states between two looks")
        if rig.view(state).rests:
            ends.append(state)
        elif found:
            onward[state] = found
    rounds = _rounds(rig, onward)
    return Settled(frozenset([*ends, *rounds]), bool(rounds), came)


def _width(rig: Rig, state: State, free: Sequence[tuple[bool, int, int]]) -> int:
    """How many steps the state has, at least."""
    count = 1
    for _, nexts in rig.view(state).options:
        count *= len(nexts)
    for _, _, values in free:
        count *= values
    return count


def _freely(rig: Rig, state: State, free: Sequence[tuple[bool, int, int]]) -> list[State]:
    """As `still`, and any of the free things may be worked in the step."""
    puts = [(state.hands, state.settings)]
    for hand, number, values in free:
        puts = [
            (_put(hands, number, value), settings)
            if hand
            else (hands, _put(settings, number, value))
            for hands, settings in puts
            for value in range(values)
        ]
    found = dict.fromkeys(
        after
        for hands, settings in puts
        if rig.allowed(hands, settings)
        for after in rig.successors(state, hands, settings)
    )
    found.pop(state, None)
    return list(found)


def _put(values: tuple[int, ...], number: int, value: int) -> tuple[int, ...]:
    return (*values[:number], value, *values[number + 1 :])


def _rounds(rig: Rig, onward: dict[State, list[State]]) -> list[State]:
    """States that something must move in, and that it can come back to for ever without anything
    being held up that must move all the time."""
    left = dict(onward)
    while True:
        ended = [s for s, afters in left.items() if not any(after in left for after in afters)]
        if not ended:
            break
        for state in ended:
            del left[state]
    found = []
    for knot in _knots(left):
        if _fair(rig, knot, left):
            found += knot
    return found


def _knots(graph: dict[State, list[State]]) -> list[list[State]]:
    """Sets of states each of which leads to all others of its set."""

    def reached(start: State, links: Callable[[State], Iterable[State]]) -> set[State]:
        seen = {start}
        waiting = [start]
        while waiting:
            for after in links(waiting.pop()):
                if after in graph and after not in seen:
                    seen.add(after)
                    waiting.append(after)
        return seen

    before: dict[State, list[State]] = {state: [] for state in graph}
    for state, afters in graph.items():
        for after in afters:
            if after in before:
                before[after].append(state)
    found = []
    done: set[State] = set()
    for state in graph:
        if state not in done:
            knot = reached(state, graph.__getitem__) & reached(state, before.__getitem__)
            done |= knot
            if len(knot) > 1:
                found.append(sorted(knot))
    return found


def _fair(rig: Rig, knot: Sequence[State], graph: dict[State, list[State]]) -> bool:
    inside = set(knot)
    for number in rig.cores:
        if all(_must(rig, state, number) for state in knot) and not any(
            state.positions[number] != after.positions[number]
            for state in knot
            for after in graph[state]
            if after in inside
        ):
            return False
    return True


def _must(rig: Rig, state: State, number: int) -> bool:
    return state.positions[number] not in rig.wanted(state, number)
