"""Property-directed reachability: proofs for all time, and runs that are not always shortest."""

from __future__ import annotations

from verifier.engines.engine import Budget
from verifier.engines.frames import Frames
from verifier.engines.obligations import Obligation, Queue
from verifier.engines.relation import Exhausted
from verifier.engines.slice import slice_of
from verifier.engines.trim import trim
from verifier.engines.walk import Choices, holds, reached, start_of
from verifier.transition.system import Finding, Goal, Proved, System, Undecided


class Directed:
    """Learns clauses that hold after at most k steps until they hold after any number.

    The frame F_k is a set of clauses satisfied by every state that at most k steps lead to; F_0 is
    the start. A state of the last frame from which `bad` can be reached is blocked by clauses that
    a SAT solver's core makes as short as it can, or else its predecessors lead back to the start.
    """

    name = "directed"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        if holds(system, goal.bad, start_of(system)):
            return reached(system, goal, (), True, self.name)
        search = _Search(system, goal, budget)
        try:
            return search.run()
        except Exhausted:
            reason = f"used up its budget of {budget.conflicts} conflicts"
            return Undecided(goal.name, reason, search.frames.top - 1, self.name)
        finally:
            search.frames.close()


class _Search:
    def __init__(self, system: System, goal: Goal, budget: Budget) -> None:
        self.system = system
        self.goal = goal
        self.budget = budget
        part = slice_of(system, [goal.bad])
        self.frames = Frames(system, part, goal.bad, budget.conflicts)
        self.part = part

    def run(self) -> Finding:
        """Invariant: no run of fewer than `frames.top` steps ends in the goal."""
        while self.frames.top <= self.budget.depth:
            bad = self.frames.bad_cube()
            if bad is not None:
                obligation = self._block(Obligation(bad, self.frames.top, None, ()))
                if obligation is not None:
                    return self._found(obligation)
                continue
            if self.frames.propagate():
                lemmas = trim(self.system, self.part, [self.goal.bad], self.frames.fixpoint())
                return Proved(self.goal.name, lemmas, Directed.name)
        reason = f"no proof within {self.budget.depth} frames"
        return Undecided(self.goal.name, reason, self.budget.depth, Directed.name)

    def _block(self, first: Obligation) -> Obligation | None:
        """Block the cube, or give the obligation that holds the start."""
        queue = Queue()
        queue.push(first)
        while (at := queue.pop()) is not None:
            if self.frames.has_start(at.cube):
                return at
            if self.frames.is_blocked(at.cube, at.level):
                continue
            found = self.frames.predecessor(at.cube, at.level)
            if found is not None:
                cube, choices = found
                queue.push(Obligation(cube, at.level - 1, at, choices))
                queue.push(at)
                continue
            level = self.frames.learn(at.cube, at.level)
            if level < self.frames.top:
                queue.push(Obligation(at.cube, level + 1, at.after, at.choices))
        return None

    def _found(self, obligation: Obligation) -> Finding:
        rows: list[Choices] = []
        at: Obligation | None = obligation
        while at is not None and at.after is not None:
            rows.append(at.choices)
            at = at.after
        return reached(self.system, self.goal, rows, False, Directed.name)
