"""States that are known to be within reach: what holds one of them is not worth refuting."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from random import Random

from verifier.engines.distances import NEVER, Distances
from verifier.engines.guess import Planner, Walks
from verifier.engines.relation import Cube
from verifier.engines.slice import Slice
from verifier.transition.system import System

# Random runs, and the steps of each.
RUNS = 1024
STEPS = 60
# Latches whose other value is walked to by a plan, and states of walks that random runs begin at.
MOST_PLANS = 300


class Sample:
    """For each latch of a slice a word: bit k is its value in the k-th of some reached states.

    Walks by plan come first, since they go far; random runs that begin where walks went fill in
    what happens beside. The same on every run: the generator has a fixed seed.
    """

    def __init__(self, system: System, part: Slice, distances: Distances) -> None:
        self._system = system
        self._part = part
        states = self._walked(distances)
        self._words = [
            sum(state[i] << k for k, state in enumerate(states)) for i in range(len(system.latches))
        ]
        self._width = len(states)
        self._stroll(states)
        self._all = (1 << self._width) - 1

    def meets(self, cube: Iterable[int]) -> bool:
        """Whether a state of the sample is in the cube."""
        return bool(self._meeting(cube))

    def widen(self, cube: Cube, whole: Cube) -> Cube:
        """A cube that no state of the sample is in: `cube` with as few as comes cheap of the
        literals of `whole`, of which it is a part and in which there is none."""
        met = self._meeting(cube)
        rest = [one for one in whole if one not in cube]
        while met:
            one = min(rest, key=lambda literal: (met & self._word(literal)).bit_count())
            rest.remove(one)
            cube = (*cube, one)
            met &= self._word(one)
        return tuple(sorted(cube, key=abs))

    def reached(self, goals: Sequence[int]) -> list[int]:
        """Those of the graph literals that are true in some state of the sample."""
        latches = self._system.latches
        values = {latches[i].node: self._words[i] for i in self._part.latches}
        found = self._system.graph.words(goals, values, self._width)
        return [goal for goal, word in zip(goals, found, strict=True) if word]

    def _meeting(self, cube: Iterable[int]) -> int:
        met = self._all
        for literal in cube:
            met &= self._word(literal)
        return met

    def _word(self, literal: int) -> int:
        word = self._words[abs(literal) - 1]
        return word if literal > 0 else word ^ self._all

    def _walked(self, distances: Distances) -> list[tuple[bool, ...]]:
        planner, walks = Planner(self._system, distances), Walks(self._system)
        latches = [self._system.latches[i] for i in self._part.latches]
        for latch in latches[:: 1 + len(latches) // MOST_PLANS]:
            other = 2 * latch.node ^ latch.start
            if 0 < distances.of(other) < NEVER:
                for lively in (True, False):
                    walks.follow(planner.plan(other), other, lively=lively)
        return walks.states()

    def _stroll(self, starts: Sequence[tuple[bool, ...]]) -> None:
        """Random runs, all at once. Most of what may move does, and hands are seldom changed."""
        random, system = Random(0), self._system
        latches = [system.latches[i] for i in self._part.latches]
        roots = [*(latch.next for latch in latches), *self._part.step_allowed]
        graph, full = system.graph, (1 << RUNS) - 1
        words = self._words
        first = [starts[k * len(starts) // RUNS] for k in range(RUNS)]
        at = {i: sum(state[i] << k for k, state in enumerate(first)) for i in self._part.latches}
        cone = set(graph.cone(roots))
        choices = [choice for choice in system.choices if choice.node in cone]
        drawn = {choice.node: random.getrandbits(RUNS) for choice in choices}
        for _ in range(STEPS):
            for choice in choices:
                fresh, often = random.getrandbits(RUNS), random.getrandbits(RUNS)
                if choice.moves:
                    drawn[choice.node] = fresh | often
                else:
                    often &= random.getrandbits(RUNS)
                    drawn[choice.node] ^= (drawn[choice.node] ^ fresh) & often
            values = {**drawn, **{system.latches[i].node: word for i, word in at.items()}}
            after = graph.words(roots, values, RUNS)
            allowed = full
            for word in after[len(latches) :]:
                allowed &= word
            # A run whose draw is not allowed stays where it is.
            for i, word in zip(self._part.latches, after, strict=False):
                at[i] ^= (at[i] ^ word) & allowed
                words[i] |= at[i] << self._width
            self._width += RUNS
