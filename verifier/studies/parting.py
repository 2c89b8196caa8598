"""Telling two runs that part after the same event: what they share, both ways, what decides."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.run import Parting, Run, State
from verifier.report.result import InstanceResult, Race, Way
from verifier.simulation.events import Change, changes_of
from verifier.simulation.races import accepted, firm_moves, firmly
from verifier.simulation.steps import leaked
from verifier.studies.keeping import keepers
from verifier.studies.names import element_name, listed, spoken
from verifier.studies.story import tell

Decider = Literal["order", "leak", "reading"]
# Of elements that end differently, so many are named with where they end.
MOST_ENDS = 4
# So many are named that move at once at the beginning of a way.
MOST_FIRST = 3


class _Head(Struct, frozen=True):
    """What a way begins with, in one step; nothing for a way that has no step."""

    state: State
    changes: tuple[Change, ...]


def tell_parting(circuit: Circuit, parting: Parting, *, shortest: bool) -> Race:
    """The race that a replayed parting shows."""
    runs, shared = (parting.first, parting.second), parting.shared
    stories = [tell(circuit, run, "", shortest=shortest) for run in runs]
    heads = [_head(circuit, run, shared) for run in runs]
    decider = _decider(circuit, parting)
    deciding = _named(circuit, heads[0], heads[1]), _named(circuit, heads[1], heads[0])
    words = [f"{deciding[k]} {_rank(heads[k], heads[1 - k], decider)}".strip() for k in (0, 1)]
    ways = [
        Way(said, tuple(e for e in story.events if e.step > shared), story.end)
        for said, story in zip(words, stories, strict=True)
    ]
    ends = [_ends(circuit, parting, k) for k in (0, 1)]
    tails = sum(len(run.steps) - shared for run in runs)
    race = Race(
        decided_by=decider,
        deciding=deciding,
        shared=tuple(e for e in stories[0].events if e.step <= shared),
        shared_steps=shared,
        first=ways[0],
        second=ways[1],
        steps=shared + tails,
        shortest=shortest,
        outcome=f"{_capital(words[0])}: {ends[0]}. {_capital(words[1])}: {ends[1]}.",
    )
    for keeper in keepers():
        keeper.race(race, circuit, parting)
    return race


def accepted_because(circuit: Circuit, parting: Parting, element: int) -> str:
    """Why the design accepts that these ways end with the element in different positions; "" if it
    does not."""
    one = accepted(circuit, parting.first.states[-1], element)
    return "" if one is None else one.reason


def unmet(circuit: Circuit, told: Sequence[InstanceResult]) -> tuple[str, ...]:
    """The races that the design accepts and none of these is, as it says them."""
    met = {(case.label, case.accepted) for case in told}
    return tuple(
        one.words
        for one in circuit.accepted
        if not any((element_name(circuit, e), one.reason) in met for e in one.elements)
    )


def beyond(circuit: Circuit, known: tuple[tuple[int, ...], bool] | None) -> str:
    """What is proved of everything that is not told: the elements that at most may end differently
    by order, and whether no reading and no leak decides either. Empty if nothing is."""
    if known is None:
        return ""
    elements, unread = known
    names = [element_name(circuit, element) for element in elements]
    loose = f"where {listed(names)} {'stops' if len(names) == 1 else 'stop'}"
    if unread:
        return f"Proved: but for {loose}, everything ends the same way in any order."
    but = f", but for {loose}" if names else ""
    return f"Proved: order alone decides nothing{but}; it takes an in-between pressure."


def _head(circuit: Circuit, run: Run, shared: int) -> _Head:
    changes = [change for change in changes_of(circuit, run) if change.step == shared]
    return _Head(run.states[shared], tuple(changes))


def _named(circuit: Circuit, head: _Head, other: _Head) -> str:
    """What comes first on a way, what does so on this way only before the rest."""
    ordered = sorted(head.changes, key=lambda change: change in other.changes)
    return listed([_subject(circuit, change) for change in ordered], MOST_FIRST)


def _subject(circuit: Circuit, change: Change) -> str:
    if change.kind == "leak":
        return f"the leak of {circuit.volumes[change.thing].name}"
    return element_name(circuit, change.thing)


def _rank(head: _Head, other: _Head, decider: Decider) -> str:
    if not head.changes:
        return "nothing moves any more"
    if decider == "order" or other.changes:
        return "first" if len(head.changes) == 1 else "at once"
    return ""


def _decider(circuit: Circuit, parting: Parting) -> Decider:
    """What it takes to go these ways apart: a leak, a reading, or neither."""
    found: Decider = "order"
    for run in (parting.first, parting.second):
        states = run.states[parting.shared :]
        for before, after in pairwise(states):
            if leaked(circuit, before, after):
                return "leak"
            moves = firm_moves(circuit, before)
            pairs = enumerate(zip(before.positions, after.positions, strict=True))
            firm = all(b in (a, moves.get(e)) for e, (a, b) in pairs)
            if not firm or after != firmly(circuit, before, after.positions):
                found = "reading"
    return found


def _ends(circuit: Circuit, parting: Parting, which: int) -> str:
    """Where the elements stop that stop elsewhere on the other way."""
    states = parting.first.states[-1], parting.second.states[-1]
    pairs = zip(states[0].positions, states[1].positions, strict=True)
    named = [
        f"{element_name(circuit, e)} ends {spoken(circuit.elements[e].positions[pair[which]])}"
        for e, pair in enumerate(pairs)
        if pair[0] != pair[1]
    ]
    return listed(named, MOST_ENDS)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
