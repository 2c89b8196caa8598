"""The same run tried with many sets of faults at once, each striking at many moments."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from verifier.engines.gates import Cases, ones
from verifier.engines.guards import Faults
from verifier.engines.near import CutSet
from verifier.engines.slice import conjuncts
from verifier.transition.system import System

Script = Sequence[Mapping[int, bool]]
"""For each step what it makes of the choices, by input node."""

# Steps after the last of a script in which things may come to rest.
PATIENCE = 3
# Choices of moments for one set, of those steps in which its faults strike.
MOST_MOMENTS = 128


class Lane:
    """A run that was tried: bits of its states and of what was true in its steps."""

    def __init__(self, words: Sequence[Mapping[int, int]], lane: int) -> None:
        self._words = words
        self._lane = lane

    @property
    def steps(self) -> int:
        return len(self._words) - 1

    def true(self, moment: int, literal: int) -> bool:
        """Truth of a graph literal that was followed, at the state of this number, and in the step
        from there."""
        return bool((self._words[moment][literal] >> self._lane) & 1)


class Trial:
    """Runs of one system by script.

    followed: graph literals whose truth is wanted of runs that hit.
    """

    def __init__(
        self, system: System, faults: Faults, goals: Sequence[int], followed: Sequence[int]
    ) -> None:
        self._system = system
        self._faults = faults
        self._followed = tuple(dict.fromkeys(followed))
        self._latches = [(latch.node, latch.next, latch.start) for latch in system.latches]
        self._allowed = conjuncts(system.graph, system.step_allowed)
        nexts = [latch.next for latch in system.latches]
        latches = [2 * latch.node for latch in system.latches]
        self._roots = [*nexts, *latches, *self._allowed, *goals, *self._followed]
        self._cases = Cases(system.graph, self._roots)
        self._moving = [one.node for one in system.choices if one.moves]

    def hits(
        self, script: Script, sets: Sequence[CutSet], goals: Mapping[CutSet, Sequence[int]]
    ) -> Iterator[tuple[CutSet, Lane]]:
        """Sets with a run that makes one of their goals true; not more than one run of each."""
        lanes = self._lanes(script, sets)
        left = set(sets)
        by_goal: dict[int, int] = {}
        for k, (faults, _, _) in enumerate(lanes):
            for goal in goals[faults]:
                by_goal[goal] = by_goal.get(goal, 0) | 1 << k
        good = (1 << len(lanes)) - 1
        state = {node: -int(start) for node, _, start in self._latches}
        past: list[dict[int, int]] = []
        for moment in range(len(script) + PATIENCE + 1):
            self._cases.put({**state, **self._choices(script, lanes, moment, state)})
            word = self._cases.word
            past.append({literal: word(literal) for literal in self._followed})
            for goal, wanted in by_goal.items():
                for lane in ones(good & wanted & word(goal)):
                    faults = lanes[lane][0]
                    if faults in left:
                        left.discard(faults)
                        yield faults, Lane(tuple(past), lane)
            if not left:
                return
            for literal in self._allowed:
                good &= word(literal)
            state = {node: word(following) for node, following, _ in self._latches}

    def _lanes(
        self, script: Script, sets: Sequence[CutSet]
    ) -> list[tuple[CutSet, tuple[int, ...], bool]]:
        """Sets, the steps in which their faults strike, and whether all moves that may."""
        found = []
        steps = range(len(script) + 1)
        for faults in sets:
            apart = len(steps) ** len(faults) <= MOST_MOMENTS
            moments: list[tuple[int, ...]] = (
                list(product(steps, repeat=len(faults)))
                if apart
                else [(step,) * len(faults) for step in steps]
            )
            found += [(faults, when, lively) for when in moments for lively in (False, True)]
        return found

    def _choices(
        self,
        script: Script,
        lanes: Sequence[tuple[CutSet, tuple[int, ...], bool]],
        moment: int,
        state: Mapping[int, int],
    ) -> dict[int, int]:
        """Words of the choices of a step from this state."""
        lively = 0
        strikes: dict[int, int] = {}
        for k, (faults, when, all_moves) in enumerate(lanes):
            if all_moves:
                lively |= 1 << k
            for one, step in zip(faults, when, strict=True):
                if step == moment:
                    strikes[one] = strikes.get(one, 0) | 1 << k
        values: dict[int, int] = {}
        if moment < len(script):
            values.update({node: -int(value) for node, value in script[moment].items()})
        else:
            lively = -1
            values.update(self._still(state))
        for node in self._moving:
            values[node] = values.get(node, 0) | lively
        for nodes in self._faults.choices:
            values.update(dict.fromkeys(nodes, 0))
        for one, word in strikes.items():
            values[self._faults.choices[one][0]] = word
        return values

    def _still(self, state: Mapping[int, int]) -> dict[int, int]:
        """Hands and surroundings stand as they stood: their words are those of their latches."""
        return {
            choice.node: state[choice.still >> 1] ^ -(choice.still & 1)
            for choice in self._system.choices
            if choice.still > 1
        }
