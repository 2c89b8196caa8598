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

# What is tried: elements that may go first, states passed before giving up, steps up to rest, and
# demands of elements looked at altogether.
MOST_FIRST = 12
MOST_SHARED = 60
MOST_STEPS = 1000
MOST_DEMANDS = 60_000


class _Fork(Struct, frozen=True):
    """From the last of the `shared` states (the first one left out) both tails lead to rest."""

    shared: tuple[State, ...]
    tails: tuple[tuple[State, ...], tuple[State, ...]]


def decided(circuit: Circuit, parting: Parting, element: int) -> Parting:
    """The same beginning and event, and firm ways apart from there that end with the element in
    different positions: each begins with a single movement, and after either of the two the order
    of what is left decides no more, as far as can be seen. The parting itself if there are none."""
    return _Decided(circuit, element).of(parting)


class _Decided:
    """The search for one element, with what it may still cost."""

    def __init__(self, circuit: Circuit, element: int) -> None:
        self._circuit = circuit
        self._element = element
        self._left = MOST_DEMANDS // len(circuit.elements)

    def of(self, parting: Parting) -> Parting:
        first, shared = parting.first, parting.shared
        fork = self._forked(first.states[shared], ())
        if fork is None:
            return parting
        while len(fork.shared) < MOST_SHARED:
            later = self._later(fork)
            if later is None:
                break
            fork = later
        base = _on(Run(first.start, first.steps[:shared]), fork.shared)
        return pair_of(_on(base, fork.tails[0]), _on(base, fork.tails[1]))

    def _later(self, fork: _Fork) -> _Fork | None:
        """A fork behind what one of the two ways begins with."""
        forks = (self._forked(tail[0], (*fork.shared, tail[0])) for tail in fork.tails)
        return next((found for found in forks if found is not None), None)

    def _forked(self, state: State, shared: tuple[State, ...]) -> _Fork | None:
        """The shortest two ways on that begin with different movements and part the element."""
        movers = list(firm_moves(self._circuit, state))[:MOST_FIRST]
        tails = [(e, tail) for e in movers for tail in self._tails(state, e, movers)]
        part = self._element
        pairs = [
            (one, other)
            for (e, one), (f, other) in combinations(tails, 2)
            if e != f and one[-1].positions[part] != other[-1].positions[part]
        ]
        if not pairs:
            return None
        return _Fork(shared, min(pairs, key=lambda pair: len(pair[0]) + len(pair[1])))

    def _tails(
        self, state: State, first: int, movers: Sequence[int]
    ) -> Iterator[tuple[State, ...]]:
        """The element moves first, then at once whatever must; or the others that must move now
        wait as long as anything else must. Those that end at rest, until the work is used up."""
        for last in ((), [e for e in movers if e != first]):
            if self._left <= 0:
                return
            tail = firm_run(self._circuit, state, [first], last, min(self._left, MOST_STEPS))
            self._left -= len(tail)
            if at_rest(self._circuit, tail[-1]):
                yield tuple(tail)


def _on(run: Run, tail: Sequence[State]) -> Run:
    return Run(run.start, (*run.steps, *(Step((), state) for state in tail)))
