"""Property-directed reachability: proofs for all time, and shortest runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from verifier.engines.distances import NEVER, Distances
from verifier.engines.engine import Budget
from verifier.engines.frames import Frames
from verifier.engines.obligations import Obligation, Queue
from verifier.engines.relation import Allowance, Exhausted
from verifier.engines.sample import Sample
from verifier.engines.slice import slice_of
from verifier.engines.trim import trim
from verifier.engines.walk import Choices, holds, reached, start_of
from verifier.transition.system import Finding, Goal, Lemma, Proved, System, Undecided

# A search is taken for a long one after so much effort and so many frames, or after so much effort
# alone.
SOME_EFFORT, SOME_FRAMES, MUCH_EFFORT = 60_000, 2, 600_000


class Directed:
    """Learns clauses that hold after at most k steps until they hold after any number.

    The frame F_k is a set of clauses satisfied by every state that at most k steps lead to; F_0 is
    the start. A state of the last frame in which the goal is true is blocked by clauses that a SAT
    solver's core makes as short as it can, or else its predecessors lead back to the start.
    """

    name = "directed"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        if holds(system, goal.bad, start_of(system)):
            return reached(system, goal, (), True, self.name)
        distances = Distances(system, [goal.bad])
        search = Search(system, [goal.bad], distances, Allowance(budget.conflicts))
        last = search.top + budget.depth
        try:
            for hit in search.run():
                if hit is not None:
                    return reached(system, goal, hit.choices, True, self.name)
                if search.top > last:
                    reason = f"no proof within {budget.depth} frames"
                    return Undecided(goal.name, reason, search.top - 1, self.name)
            return Proved(goal.name, search.lemmas(), self.name)
        except Exhausted:
            reason = f"used up its budget of {budget.conflicts} conflicts"
            return Undecided(goal.name, reason, search.top - 1, self.name)
        finally:
            search.close()


class Hit(Struct, frozen=True):
    """A goal (graph literal) and the steps of a shortest run into it."""

    bad: int
    choices: tuple[Choices, ...]


class Search:
    """Directed search for runs into several goals (graph literals), shorter ones first.

    Invariant: no run of fewer than `top` steps ends in one of `goals`, which are those that are not
    found yet. They are false at the start.
    assumed: graph literals that are true in every state that can be reached.
    """

    def __init__(
        self,
        system: System,
        goals: Sequence[int],
        distances: Distances,
        allowance: Allowance,
        assumed: Sequence[int] = (),
    ) -> None:
        self.goals = list(goals)
        self._system = system
        self._part = slice_of(system, [*goals, *assumed])
        self._distances = distances
        self._allowance = allowance
        self._frames = Frames(system, self._part, allowance, distances, assumed)
        self._past_effort = 0
        self.sample: Sample | None = None
        self._assumed = tuple(assumed)
        self._blocked: list[Obligation] = []
        self._waiting = Queue()
        near = min(map(distances.of, goals))
        self.top = self._first = 1 if near == NEVER else max(1, near)

    @property
    def effort(self) -> int:
        return self._past_effort + self._frames.effort

    def close(self) -> None:
        self._frames.close()

    def run(self) -> Iterator[Hit | None]:
        """Hits, and None now and then in between; ends when no run ends in the goals left.

        Between two of them, goals may be dropped.
        """
        while self.goals:
            self._frames.open(self.top)
            yield from self._hits()
            if all(self._distances.of(bad) == NEVER for bad in self.goals):
                self._frames.settle()
                return
            if self._frames.propagate():
                return
            self.top += 1
            for obligation in self._blocked:
                self._waiting.push(obligation)
            self._blocked = []

    def drop(self, bad: int) -> None:
        """Look for a goal no longer."""
        self.goals.remove(bad)
        self._blocked = [one for one in self._blocked if one.bad != bad]
        self._waiting.drop(bad)

    def lemmas(self) -> tuple[Lemma, ...]:
        """Clauses that prove that the goals left are out of reach, once `run` has ended."""
        lemmas = self._frames.fixpoint()
        return trim(self._system, self._part, lemmas, self.goals, assumed=self._assumed)

    def _hits(self) -> Iterator[Hit | None]:
        """Goals that runs of `top` steps end in."""
        while True:
            for obligation in self._block():
                if obligation is not None:
                    self.drop(obligation.bad)
                    yield Hit(obligation.bad, tuple(obligation.path()))
                else:
                    yield None
            far = self._distances.of if self.sample is None else lambda _: 0
            near = [bad for bad in self.goals if far(bad) <= self.top]
            found = self._frames.bad_cube(near) if near else None
            if found is None:
                return
            self._waiting.push(Obligation(found[1], 0, found[0], None, ()))

    def _is_long(self) -> bool:
        effort = self._frames.effort
        deep = self.top >= self._first + SOME_FRAMES
        return effort > MUCH_EFFORT or (effort > SOME_EFFORT and deep)

    def _guide(self) -> None:
        """Begin afresh, with a sample of what is reached: the search is going to be a long one."""
        self.sample = sample = Sample(self._system, self._part, self._distances)
        self._past_effort = self._frames.effort
        self._frames.close()
        self._frames = Frames(
            self._system, self._part, self._allowance, self._distances, self._assumed, sample
        )
        self._blocked, self._waiting = [], Queue()
        self.top = 2
        self._frames.open(self.top)

    def _block(self) -> Iterator[Obligation | None]:
        """Block what waits; gives the obligations that hold the start, and None in between."""
        frames = self._frames
        while (at := self._waiting.pop()) is not None:
            if self.sample is None and self._is_long():
                self._guide()
                return
            level = self.top - at.steps
            if level == 0 or frames.has_start(at.cube):
                yield at
                continue
            if frames.is_blocked(at.cube, level):
                self._blocked.append(at)
                continue
            found = frames.predecessor(at.cube, level)
            if found is None:
                frames.learn(at.cube, level)
                self._blocked.append(at)
            else:
                self._waiting.push(at)
                self._waiting.push(Obligation(found[0], at.steps + 1, at.bad, at, found[1]))
            yield None
