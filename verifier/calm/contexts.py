"""What can be tried on a sound trailer: operations that make something happen that no other did."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from verifier.calm.rig import Rig, State
from verifier.calm.runner import run_through
from verifier.calm.script import Put
from verifier.calm.showing import shown
from verifier.calm.signs import Sign, signs_of
from verifier.calm.trailer import Trailer

MOST_TRIED = 4_000
DEPTH = 5


class Operation(Struct, frozen=True):
    """Something done: a momentary hand is put on, kept so, and let go again."""

    puts: tuple[Put, ...]


class Trial(Struct, frozen=True):
    """An operation in a state. before: the trial that led to that state, None for the first;
    after: the state at rest that it leads to."""

    before: int | None
    operation: Operation
    begin: State
    after: State


def operations(trailer: Trailer, state: State, left_out: Sequence[int] = ()) -> list[Operation]:
    """Everything that a tester can do in this state. left_out: things that he does not touch."""
    design, own = trailer.design, trailer.own
    found = []
    for number in range(len(design.hands)):
        thing = own + number
        if thing in left_out:
            continue
        if trailer.held[number]:
            found.append(Operation((Put(thing, 1 - state.hands[number], ""),)))
        else:
            found.append(Operation((Put(thing, 1, ""), Put(thing, 0, ""))))
    first = own + len(design.hands)
    for number, switch in enumerate(design.switches):
        if first + number in left_out:
            continue
        for value, name in enumerate(switch.values):
            if value != state.settings[number] and name != "weak":
                found.append(Operation((Put(first + number, value, ""),)))
    return found


def after(trailer: Trailer, rig: Rig, state: State, operation: Operation) -> State | None:
    """A state at rest after it; None if the design assumes that it is not done, or no rest is
    found."""
    trace = run_through(rig, [state], operation.puts)
    return None if trace is None else trace.states[-1]


def trials(trailer: Trailer, begin: State, left_out: Sequence[int] = ()) -> list[Trial]:
    """Nearest first. A state is gone on from if something new happened on the way to it."""
    rig = trailer.rig()
    flows = [sign for sign in signs_of(trailer.circuit) if sign.paths]
    found: list[Trial] = []
    known = set()
    reached = {begin}
    waiting: list[tuple[State, int | None, int]] = [(begin, None, 0)]
    tried = 0
    for state, before, depth in waiting:
        for operation in operations(trailer, state, left_out):
            tried += 1
            if tried > MOST_TRIED:
                return found
            end = after(trailer, rig, state, operation)
            if end is None or not _undoes(trailer, state, end):
                continue
            sign = (operation.puts, _happened(rig, flows, state, end))
            if sign in known:
                continue
            known.add(sign)
            found.append(Trial(before, operation, state, end))
            if end not in reached and depth + 1 < DEPTH:
                reached.add(end)
                waiting.append((end, len(found) - 1, depth + 1))
    return found


def _happened(rig: Rig, flows: Sequence[Sign], state: State, end: State) -> tuple[object, ...]:
    """Which elements moved, which volumes gained or lost air, where liquid ran or ceased to."""
    moved = tuple(
        (number, rig.standing(state, number), rig.standing(end, number))
        for number in range(rig.own)
        if rig.standing(state, number) != rig.standing(end, number)
    )
    runs = tuple(
        (number, sorted(shown(rig, state, sign)), sorted(shown(rig, end, sign)))
        for number, sign in enumerate(flows)
        if shown(rig, state, sign) != shown(rig, end, sign)
    )
    return moved, rig.view(state).high ^ rig.view(end).high, str(runs)


def _undoes(trailer: Trailer, state: State, end: State) -> bool:
    """Whether nothing moved that nobody and nothing brings back (a plug that has melted)."""
    for number, (was, now) in enumerate(zip(state.positions, end.positions, strict=True)):
        element = trailer.design.elements[number]
        back = element.otherwise == was or any(move.target == was for move in element.moves)
        if was != now and not back:
            return False
    return True


def way(trailer: Trailer, begin: State, goal: State, most: int) -> list[Operation] | None:
    """A shortest way from one state at rest to another; None within so many tries."""
    rig = trailer.rig()
    came: dict[State, tuple[State, Operation] | None] = {begin: None}
    waiting = [begin]
    tried = 0
    for state in waiting:
        if state == goal:
            return list(_back(came, state))[::-1]
        for operation in _towards(trailer, state, goal):
            tried += 1
            end = after(trailer, rig, state, operation)
            if end is not None and end not in came:
                came[end] = state, operation
                waiting.append(end)
        if tried > most:
            return None
    return None


def _towards(trailer: Trailer, state: State, goal: State) -> list[Operation]:
    """Operations of parts that do not stand as they should in the end, and all if none does."""
    rig = trailer.rig()
    wrong = {
        trailer.design.elements[number].part
        for number, (a, b) in enumerate(zip(state.positions, goal.positions, strict=True))
        if a != b
    }
    found = []
    for operation in operations(trailer, state):
        put = operation.puts[0]
        hand = put.thing - rig.own
        if hand < len(state.hands):
            held = trailer.held[hand] and state.hands[hand] != goal.hands[hand]
            if held or (not trailer.held[hand] and trailer.design.hands[hand].part in wrong):
                found.append(operation)
        else:
            number = hand - len(state.hands)
            if state.settings[number] != goal.settings[number] == put.value:
                found.append(operation)
    return sorted(found, key=lambda one: _opening(trailer, state, goal, one))


def _opening(trailer: Trailer, state: State, goal: State, operation: Operation) -> int:
    """Outlets are shut before all else, and opened after all else."""
    hand = operation.puts[0].thing - trailer.own
    if hand >= len(state.hands):
        return 1
    part = trailer.design.hands[hand].part
    for element in trailer.design.parts[part].elements:
        ways = (w for n in trailer.design.networks if n.medium == "liquid" for w in n.ways)
        places = [w.positions for way in ways for w in way.where if w.element == element]
        if places and state.positions[element] != goal.positions[element]:
            return 2 if any(goal.positions[element] in one for one in places) else 0
    return 1


def _back(came: dict[State, tuple[State, Operation] | None], state: State) -> Iterator[Operation]:
    step = came[state]
    while step is not None:
        yield step[1]
        step = came[step[0]]
