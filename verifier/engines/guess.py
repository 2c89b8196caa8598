"""Guessing runs: from the causes of the distances to a plan, and from the plan to a walk.

A plan sets what the causes ask of the choices and leaves conflicts between causes aside; whether it
leads where it should is seen by walking it. A run as long as the distance is a shortest one.
"""

from __future__ import annotations

from collections.abc import Mapping
from heapq import heappop, heappush

from msgspec import Struct

from verifier.engines.distances import NEVER, Distances
from verifier.engines.evaluator import Evaluator
from verifier.engines.walk import Choices, State, start_of
from verifier.transition.system import Reached, System

# Steps after the plan's last in which things may come to rest.
PATIENCE = 3

Plan = tuple[Mapping[int, bool], ...]
"""For each step what it asks of the choices, by input node."""


_Causes = tuple[list[tuple[int, int]], list[tuple[int, bool]]]
"""Literals of latches that must come true, each with its distance, and choices with their value."""


class Planner:
    """Plans from distances: each cause as late as the first that needs it allows."""

    def __init__(self, system: System, distances: Distances) -> None:
        self._fanins = system.graph.fanins
        self._nexts = {latch.node: latch.next for latch in system.latches}
        self._distances = distances
        # By literal, what its causes ask for at first hand, and of which latches at any.
        self._causes: dict[int, _Causes] = {}
        self._behind: dict[int, frozenset[int]] = {}
        self._raw: dict[int, _Causes] = {}
        self._parts: dict[int, _Causes] = {}

    def plan(self, literal: int) -> Plan:
        """A plan of as many steps as the distance of the literal, which is not NEVER."""
        distances, nexts = self._distances, self._nexts
        length = distances.of(literal)
        acts: list[dict[int, bool]] = [{} for _ in range(length)]
        wanted: dict[int, int] = {}
        waiting: list[tuple[int, int]] = []
        self._demand(literal, length, acts, wanted, waiting)
        while waiting:
            _, latch = heappop(waiting)
            following = nexts[latch >> 1] ^ (latch & 1)
            self._demand(following, wanted[latch] - 1, acts, wanted, waiting)
        return tuple(acts)

    def _demand(
        self,
        root: int,
        moment: int,
        acts: list[dict[int, bool]],
        wanted: dict[int, int],
        waiting: list[tuple[int, int]],
    ) -> None:
        """The literal is to be true at the moment: what its causes ask of choices and latches."""
        self._find(root)
        later, chosen = self._causes[root]
        for soonest, at in later:
            if at not in wanted:
                wanted[at] = moment
                heappush(waiting, (-soonest, at))
            else:
                wanted[at] = min(wanted[at], moment)
        if moment < len(acts):
            here = acts[moment]
            for node, value in chosen:
                here.setdefault(node, value)

    def _find(self, root: int) -> None:
        """Know the causes of a literal, and those of what they ask for, from the latest on."""
        nexts, stack = self._nexts, [root]
        while stack:
            at = stack[-1]
            if at in self._causes:
                stack.pop()
                continue
            if at not in self._raw:
                self._raw[at] = self._of_parts(at)
            later, chosen = self._raw[at]
            asked = [(one, nexts[one >> 1] ^ (one & 1)) for _, one in later]
            missing = [following for _, following in asked if following not in self._causes]
            if missing:
                stack += missing
                continue
            stack.pop()
            del self._raw[at]
            # What one of them asks for in its turn is asked for sooner than by all of them.
            behind: set[int] = set()
            behind.update(*(self._behind[following] for _, following in asked))
            self._causes[at] = ([one for one in later if one[1] not in behind], chosen)
            self._behind[at] = frozenset(behind.union(one for _, one in later))

    def _of_parts(self, root: int) -> _Causes:
        """What the causes of a literal ask for; many goals have one of the two parts of a
        conjunction in common."""
        a, b = self._fanins[root >> 1]
        later: dict[tuple[int, int], None] = {}
        chosen: dict[tuple[int, bool], None] = {}
        for part in (root,) if root & 1 or a < 0 else (a, b):
            if part not in self._parts:
                self._parts[part] = self._caused(part)
            later.update(dict.fromkeys(self._parts[part][0]))
            chosen.update(dict.fromkeys(self._parts[part][1]))
        return list(later), list(chosen)

    def _caused(self, root: int) -> _Causes:
        """Literals of latches, each with its distance, and choices that the causes of a literal
        ask for. What is true at the start is not asked for."""
        distances, fanins, nexts = self._distances, self._fanins, self._nexts
        later: list[tuple[int, int]] = []
        chosen: list[tuple[int, bool]] = []
        stack, seen = [root], {root}
        while stack:
            at = stack.pop()
            node = at >> 1
            a, b = fanins[node]
            if a >= 0:
                parts = (distances.cause(at),) if at & 1 else (a, b)
                stack += (part for part in parts if part not in seen)
                seen.update(parts)
            elif node in nexts:
                soonest = distances.of(at)
                if soonest:
                    later.append((soonest, at))
            elif node:
                chosen.append((node, not at & 1))
        return later, chosen


class _Place(Struct):
    """A state that walks went through: how they came there, and where they went on to."""

    state: State
    before: _Place | None
    choices: Choices
    after: dict[tuple[bool, tuple[tuple[int, bool], ...]], _Place | None]


class Walks:
    """Walks from the start; those that begin alike share what they have in common."""

    def __init__(self, system: System) -> None:
        self._system = system
        self._evaluator = Evaluator(system.graph)
        self._evaluator.follow([*(latch.next for latch in system.latches), system.step_allowed])
        self._start = _Place(start_of(system), None, (), {})
        self._at: _Place | None = None

    def follow(self, plan: Plan, bad: int, *, lively: bool) -> list[_Place] | None:
        """The places on the way of the plan and a few steps on, up to the first in which `bad` is
        true from the plan's end on; None if there is none. lively: all moves that may, does."""
        place: _Place | None = self._start
        passed = [self._start]
        for step in range(len(plan) + PATIENCE + 1):
            if step >= len(plan) and self._true(passed[-1], bad):
                return passed
            acts = plan[step] if step < len(plan) else {}
            place = self._step(passed[-1], acts, lively)
            if place is None:
                return None
            passed.append(place)
        return None

    def states(self) -> list[State]:
        """All states that walks went through, each once."""
        found: dict[State, None] = {}
        waiting = [self._start]
        while waiting:
            place = waiting.pop()
            found[place.state] = None
            waiting += (after for after in place.after.values() if after is not None)
        return list(found)

    def _step(self, place: _Place, acts: Mapping[int, bool], lively: bool) -> _Place | None:
        key = (lively, tuple(sorted(acts.items())))
        if key not in place.after:
            place.after[key] = self._walk(place, acts, lively)
        return place.after[key]

    def _walk(self, place: _Place, acts: Mapping[int, bool], lively: bool) -> _Place | None:
        evaluator = self._evaluator
        self._load(place)
        values = {}
        for choice in self._system.choices:
            if choice.node in acts:
                values[choice.node] = acts[choice.node]
            else:
                values[choice.node] = (lively and choice.moves) or evaluator.true(choice.still)
        evaluator.put(values)
        if not evaluator.true(self._system.step_allowed):
            return None
        state = tuple(evaluator.true(latch.next) for latch in self._system.latches)
        return _Place(state, place, tuple(values.values()), {})

    def _true(self, place: _Place, literal: int) -> bool:
        self._load(place)
        return self._evaluator.true(literal)

    def _load(self, place: _Place) -> None:
        if self._at is not place:
            self._at = place
            latches = self._system.latches
            self._evaluator.put(
                {latch.node: b for latch, b in zip(latches, place.state, strict=True)}
            )


class Guesser:
    """Runs into goals of one system, as far as plans lead there."""

    name = "guess"

    def __init__(self, system: System, distances: Distances) -> None:
        self._distances = distances
        self._planner = Planner(system, distances)
        self._walks = Walks(system)

    def run_into(self, bad: int) -> Reached | None:
        """A run that was walked, into a graph literal; it is a shortest one if its length is the
        distance. The name of the goal is left out."""
        if self._distances.of(bad) == NEVER:
            return None
        plan = self._planner.plan(bad)
        best: list[_Place] | None = None
        for lively in (True, False):
            passed = self._walks.follow(plan, bad, lively=lively)
            if passed is not None and (best is None or len(passed) < len(best)):
                best = passed
            if best is not None and len(best) == len(plan) + 1:
                break
        if best is None:
            return None
        return Reached(
            "",
            tuple(place.state for place in best),
            tuple(place.choices for place in best[1:]),
            len(best) == len(plan) + 1,
            self.name,
        )
