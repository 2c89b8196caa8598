"""Guesses about what has come back once a phase of a procedure has begun.

Much that moved before has come back to where it is at the start when the phase begins, and stays so
while the procedure goes on.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from verifier.engines.slice import Slice
from verifier.engines.words import Words
from verifier.transition.system import Lemma, System

# Beyond so many guesses, there are none.
MOST_GUESSES = 20_000
# Random runs in which guesses fail, and the steps of each.
RUNS = 512
STEPS = 40


def guesses(system: System, part: Slice, goals: Sequence[int]) -> list[Lemma]:
    """For each phase and each other latch of the slice: once the phase has begun, the latch has the
    value that it has at the start. The start satisfies all of them.

    Left out is what a step breaks from a state in which no goal is true and all the others hold: it
    cannot be part of an inductive invariant of guesses and "not this goal".
    """
    latches = system.latches
    phases = [i for i in system.phases if i in part.latches and not latches[i].start]
    others = [i for i in part.latches if i not in phases]
    if len(phases) * len(others) > MOST_GUESSES:
        return []
    left = _Runs(system, part, goals, phases).kept(others)
    return [
        tuple(sorted(((phase, False), (i, latches[i].start))))
        for phase in phases
        for i in others
        if i in left[phase]
    ]


class _Runs:
    """Random runs, all at once, from random states in which no phase has begun: those satisfy every
    guess. What fails later on the way is dropped there and then, so that the others still hold.
    Most of what may move does, and hands are seldom changed. The same on every run: the generator
    has a fixed seed.
    """

    def __init__(
        self, system: System, part: Slice, goals: Sequence[int], phases: Sequence[int]
    ) -> None:
        self._system = system
        self._phases = phases
        self._random = Random(0)
        self._latches = part.latches
        nexts = [system.latches[i].next for i in part.latches]
        of_steps = [*nexts, *part.step_allowed, *(bad ^ 1 for bad in goals), *part.state_allowed]
        self._words = Words(system.graph, of_steps, RUNS)
        cone = set(system.graph.cone(of_steps))
        self._choices = [choice for choice in system.choices if choice.node in cone]
        self._brisk = self._random.getrandbits(RUNS)
        self._drawn = {choice.node: self._random.getrandbits(RUNS) for choice in self._choices}
        self._at = {i: self._random.getrandbits(RUNS) for i in part.latches}
        self._at.update(dict.fromkeys(phases, 0))

    def kept(self, others: Sequence[int]) -> dict[int, set[int]]:
        """By phase, the latches that were never seen to have left their start value in it."""
        left = {phase: set(others) for phase in self._phases}
        for _ in range(STEPS):
            allowed = self._step()
            for phase in self._phases:
                begun = self._at[phase] & allowed
                left[phase] = {i for i in left[phase] if not begun & self._moved(i)}
        return left

    def _moved(self, latch: int) -> int:
        """The runs in which it does not have its start value."""
        full = (1 << RUNS) - 1
        return self._at[latch] ^ (full if self._system.latches[latch].start else 0)

    def _step(self) -> int:
        """The runs that went on; the others stay where they are, for this step or for ever."""
        random = self._random
        for choice in self._choices:
            fresh, often = random.getrandbits(RUNS), random.getrandbits(RUNS)
            if choice.moves:
                self._drawn[choice.node] = fresh | often | self._brisk
            else:
                change = often & random.getrandbits(RUNS)
                self._drawn[choice.node] ^= (self._drawn[choice.node] ^ fresh) & change
        latches = self._system.latches
        values = {**self._drawn, **{latches[i].node: word for i, word in self._at.items()}}
        after = self._words.of(values)
        allowed = (1 << RUNS) - 1
        for word in after[len(self._latches) :]:
            allowed &= word
        for i, word in zip(self._latches, after, strict=False):
            self._at[i] ^= (self._at[i] ^ word) & allowed
        return allowed
