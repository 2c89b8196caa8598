"""Where two orders of movements really part: the last state at which the order still decides."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from msgspec import Struct

from verifier.evidence.parting import pair_of
from verifier.model.circuit import Circuit
from verifier.model.run import Parting, Run, State, Step
from verifier.simulation.movement import at_rest
from verifier.simulation.races import firm_moves, firm_run

# What is tried: elements that may go first, states passed before giving up, steps up to rest.
MOST_FIRST = 12
MOST_SHARED = 60
MOST_STEPS = 1000


class _Fork(Struct, frozen=True):
    """From the last of the `shared` states (the first one left out) both tails lead to rest."""

    shared: tuple[State, ...]
    tails: tuple[tuple[State, ...], tuple[State, ...]]


def decided(circuit: Circuit, parting: Parting, element: int) -> Parting:
    """The same beginning and event, and firm ways apart from there that end with the element in
    different positions: each begins with a single movement, and after either of the two the order
    of what is left decides no more, as far as can be seen. The parting itself if there are none."""
    first, shared = parting.first, parting.shared
    fork = _forked(circuit, first.states[shared], element, ())
    if fork is None:
        return parting
    while len(fork.shared) < MOST_SHARED:
        later = _later(circuit, fork, element)
        if later is None:
            break
        fork = later
    base = _on(Run(first.start, first.steps[:shared]), fork.shared)
    return pair_of(_on(base, fork.tails[0]), _on(base, fork.tails[1]))


def _later(circuit: Circuit, fork: _Fork, element: int) -> _Fork | None:
    """A fork behind what one of the two ways begins with."""
    forks = (_forked(circuit, tail[0], element, (*fork.shared, tail[0])) for tail in fork.tails)
    return next((found for found in forks if found is not None), None)


def _forked(
    circuit: Circuit, state: State, element: int, shared: tuple[State, ...]
) -> _Fork | None:
    """The shortest two ways on that begin with different movements and part the element."""
    movers = list(firm_moves(circuit, state))[:MOST_FIRST]
    tails = [(e, tail) for e in movers for tail in _tails(circuit, state, e, movers)]
    pairs = [
        (one, other)
        for (e, one), (f, other) in combinations(tails, 2)
        if e != f and one[-1].positions[element] != other[-1].positions[element]
    ]
    if not pairs:
        return None
    return _Fork(shared, min(pairs, key=lambda pair: len(pair[0]) + len(pair[1])))


def _tails(
    circuit: Circuit, state: State, first: int, movers: Sequence[int]
) -> Iterator[tuple[State, ...]]:
    """The element moves first, then at once whatever must; or the others that must move now wait as
    long as anything else must. Those that end at rest."""
    for last in ((), [e for e in movers if e != first]):
        tail = firm_run(circuit, state, [first], last, MOST_STEPS)
        if at_rest(circuit, tail[-1]):
            yield tuple(tail)


def _on(run: Run, tail: Sequence[State]) -> Run:
    return Run(run.start, (*run.steps, *(Step((), state) for state in tail)))
