"""Test procedures as walks of operations: what each step must show, and whom it reveals."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from verifier.calm.contexts import Operation, Trial, way
from verifier.calm.fleet import Fleet, Look
from verifier.calm.lanes import Lane
from verifier.calm.rig import State
from verifier.calm.script import Put
from verifier.calm.showing import values_of, ways
from verifier.calm.signs import Sign
from verifier.calm.trailer import Trailer

MOST_WAY = 400
SOUND = 0
"""The lane of the trailer that nothing is wrong with."""


class Shown(Struct, frozen=True):
    """A sign that a sound trailer shows always the same; reveals: lanes that cannot show that."""

    sign: Sign
    value: int
    reveals: frozenset[int]


def fleet_of(trailer: Trailer, faults: Sequence[str]) -> Fleet:
    """One lane that is sound, then one for each fault."""
    fleet = Fleet(trailer, [Lane(()), *(Lane((name,)) for name in faults)])
    fleet.settle()
    return fleet


def carry_out(fleet: Fleet, puts: Iterable[Put]) -> Look:
    look = fleet.look()
    for put in puts:
        fleet.put(put.thing, put.value)
        look = fleet.settle()
    return look


def listened(fleet: Fleet, signs: Sequence[Sign]) -> list[Shown]:
    """First one listens whether air blows out where it should not. Lanes in which it must are gone;
    of the others only that is left which goes on in silence."""
    look = fleet.look()
    found = []
    for sign in signs:
        if sign.added:
            before = frozenset(fleet.boxes)
            fleet.keep_only(ways(fleet, look, sign, 0), look)
            found.append(Shown(sign, 0, before - frozenset(fleet.boxes)))
            look = fleet.settle()
    return found


def shown_in(fleet: Fleet, signs: Sequence[Sign]) -> list[Shown]:
    """Everything that a sound trailer shows one way only, once one has listened."""
    look = fleet.look()
    alive = frozenset(fleet.boxes) - fleet.lost
    found = []
    for sign in signs:
        if sign.added:
            continue
        can: list[tuple[int, frozenset[int]]] = []
        for value in values_of(fleet, sign):
            lanes = frozenset(look.layout.lanes_in(ways(fleet, look, sign, value)))
            if SOUND in lanes:
                can.append((value, lanes))
        if len(can) == 1:
            value, lanes = can[0]
            found.append(Shown(sign, value, alive - lanes))
    return found


def route(
    trailer: Trailer, begin: State, chosen: Sequence[Trial], last: Sequence[Trial]
) -> list[Operation]:
    """A walk through all the chosen trials and back; those of `last` come last. The next one is
    always the nearest."""
    walk: list[Operation] = []
    here = begin
    for group in ([t for t in chosen if t not in last], list(last)):
        left = list(group)
        while left:
            near, path = _nearest(trailer, here, left)
            left.remove(near)
            walk += [*path, near.operation]
            here = near.after
    return [*walk, *(way(trailer, here, begin, MOST_WAY) or [])]


def _nearest(trailer: Trailer, here: State, left: Sequence[Trial]) -> tuple[Trial, list[Operation]]:
    best: tuple[Trial, list[Operation]] | None = None
    known: dict[State, list[Operation] | None] = {}
    for trial in left:
        if trial.begin == here:
            return trial, []
        if trial.begin not in known:
            known[trial.begin] = way(trailer, here, trial.begin, MOST_WAY)
        path = known[trial.begin]
        if path is not None and (best is None or len(path) < len(best[1])):
            best = trial, path
    if best is None:
        raise LostTheWay("no way leads to a state from which a test was to be made")
    return best


class LostTheWay(Exception):
    """A tester would have to get the trailer into a state that no short way leads to."""
