"""One run that a rig can take through what was done and seen, found by trying."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

from msgspec import Struct

from verifier.calm.rig import Rig, State
from verifier.calm.script import Happening, Put
from verifier.calm.settling import TooMany, settle
from verifier.calm.showing import shown

WIDTH = 16
TRIES = 6
MOST_STEPS = 300
MOST_EXACT = 300


class Trace(Struct, frozen=True):
    """states: each follows from the one before, or is it. at: of each happening, the number of the
    state at which it is over; for what was seen, the state that shows it."""

    states: tuple[State, ...]
    at: tuple[int, ...]


class _Node:
    """The end of a path; `before` leads back."""

    __slots__ = ("before", "marks", "state")

    def __init__(self, state: State, before: _Node | None, marks: int) -> None:
        self.state, self.before, self.marks = state, before, marks


def run_through(
    rig: Rig,
    begun: Sequence[State],
    happenings: Sequence[Happening],
    free: Sequence[tuple[bool, int, int]] = (),
    exact: bool = True,
) -> Trace | None:
    """A run; None if there is none. What is not found by trying is sought among all states; raises
    TooMany where those are too many, or if that is not wanted (exact)."""
    random = Random(0)
    nodes = _rested(rig, [_Node(state, None, 0) for state in begun], random, free)
    for done, happening in enumerate(happenings, 1):
        if isinstance(happening, Put):
            nodes = _rested(rig, _put(rig, nodes, happening), random, free)
        else:
            nodes = [n for n in nodes if _shows(rig, n.state, happening)]
        if not nodes and not exact:
            raise TooMany("no run was found by trying")
        if not nodes:
            return _exactly(rig, begun, happenings, free)
        for node in nodes:
            node.marks = done
    return _traced(nodes[0], len(happenings))


def _shows(rig: Rig, state: State, seen: Happening) -> bool:
    return not isinstance(seen, Put) and not shown(rig, state, seen.sign).isdisjoint(seen.values)


def _put(rig: Rig, nodes: Sequence[_Node], put: Put) -> list[_Node]:
    found = []
    for node in nodes:
        hands, settings = worked(rig, node.state, put)
        if rig.allowed(hands, settings):
            found += [
                _Node(after, node, 0) for after in rig.successors(node.state, hands, settings)
            ]
    return found


def worked(rig: Rig, state: State, put: Put) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Hands and settings once it is put so."""
    hands, settings = list(state.hands), list(state.settings)
    if put.thing < rig.own + len(hands):
        hands[put.thing - rig.own] = put.value
    else:
        settings[put.thing - rig.own - len(hands)] = put.value
    return tuple(hands), tuple(settings)


def _rested(
    rig: Rig, nodes: Sequence[_Node], random: Random, free: Sequence[tuple[bool, int, int]]
) -> list[_Node]:
    """Different ends at rest, some of each beginning, until there are enough."""
    found: dict[State, _Node] = {}
    for attempt in range(TRIES):
        for node in nodes[:WIDTH]:
            end = _rest(rig, node, attempt, random)
            for one in [end] if end is None else [end, *_freely(rig, end, free, random, attempt)]:
                if one is not None:
                    found.setdefault(one.state, one)
        if len(found) >= WIDTH:
            break
    return list(found.values())


def _freely(
    rig: Rig, node: _Node, free: Sequence[tuple[bool, int, int]], random: Random, attempt: int
) -> Iterator[_Node | None]:
    """The same after somebody has worked what is free, and all has come to rest."""
    for hand, number, values in free:
        for value in range(values):
            thing = rig.own + number + (0 if hand else len(node.state.hands))
            for after in _put(rig, [node], Put(thing, value, "")):
                yield _rest(rig, after, attempt, random)


def _rest(rig: Rig, node: _Node, attempt: int, random: Random) -> _Node | None:
    """Everything that must moves at once (first attempt), or only some of it, and what may be read
    either way is."""
    for _ in range(MOST_STEPS):
        view = rig.view(node.state)
        if view.rests and (attempt < 2 or random.random() < 0.5):
            return node
        after = _step(rig, node.state, attempt, random)
        if after != node.state:
            node = _Node(after, node, 0)
    return None


def _step(rig: Rig, state: State, attempt: int, random: Random) -> State:
    view = rig.view(state)
    positions = list(state.positions)
    some = [one for one in view.options if len(one[1]) > 1]
    if attempt and some:
        some = random.sample(some, random.randint(1, len(some)))
    for number, nexts in some:
        must = positions[number] not in rig.wanted(state, number)
        if must or attempt > 1:
            positions[number] = nexts[1] if attempt < 2 else random.choice(nexts[1:])
    afters = list(rig.successors_at(state, tuple(positions)))
    return afters[0] if attempt < 3 else random.choice(afters)


def _exactly(
    rig: Rig,
    begun: Sequence[State],
    happenings: Sequence[Happening],
    free: Sequence[tuple[bool, int, int]],
) -> Trace | None:
    """By all states. Raises TooMany."""
    heads = {state: _Node(state, None, 0) for state in begun}
    for number in range(len(happenings) + 1):
        settled = settle(rig, heads, free, MOST_EXACT)
        known = dict(heads)
        for state, before in settled.came.items():
            if before is not None:
                known[state] = _Node(state, known[before], 0)
        nodes = [known[state] for state in sorted(settled.ends)]
        if number == len(happenings):
            return _traced(nodes[0], number) if nodes else None
        happening = happenings[number]
        if isinstance(happening, Put):
            nodes = _put(rig, nodes, happening)
        else:
            nodes = [_Node(n.state, n, 0) for n in nodes if _shows(rig, n.state, happening)]
        for node in nodes:
            node.marks = number + 1
        heads = {}
        for node in nodes:
            heads.setdefault(node.state, node)
        if not heads:
            return None
    return None


def _traced(node: _Node | None, happenings: int) -> Trace:
    path: list[_Node] = []
    while node is not None:
        path.append(node)
        node = node.before
    path.reverse()
    at = [0] * happenings
    for place, one in enumerate(path):
        for number in range(one.marks):
            if not at[number]:
                at[number] = place
    return Trace(tuple(one.state for one in path), tuple(at))
