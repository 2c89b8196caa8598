"""Directed search, which can prove, and bounded search, which needs no detours, take turns.

Each is helped by the other: what either has refuted need not be refuted again.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from verifier.engines.bounded import Bounded, Deepening
from verifier.engines.directed import Directed, Hit, Search
from verifier.engines.distances import Distances
from verifier.engines.engine import Budget
from verifier.engines.relation import Allowance, Exhausted
from verifier.engines.walk import reached
from verifier.solving.answer import Answer
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Finding, Goal, Proved, Reached, System, Undecided

# Bounded search begins when directed search has spent so much effort, and then spends this part of
# it. Most questions are settled before that.
HEAD_START = 300_000
SHARE = 0.7
# The same when all goals left are known to be within reach: directed search is then no use, unless
# bounded search is none.
SHARE_WITHIN_REACH = 20
# Conflicts after which bounded search lets the other go on.
TURN = 2_000


class Race:
    """Findings for goals (graph literals) that are false at the start and have a distance.

    longer: runs into some of them that may not be shortest ones.
    assumed: graph literals that are true in every state that can be reached.
    """

    def __init__(
        self,
        system: System,
        goals: Sequence[int],
        distances: Distances,
        budget: Budget,
        longer: dict[int, Reached] | None = None,
        assumed: Sequence[int] = (),
    ) -> None:
        self._system = system
        self._budget = budget
        self._longer = longer or {}
        allowance = Allowance(budget.conflicts)
        self._search = Search(system, goals, distances, allowance, assumed)
        self._turns = self._search.run()
        self._solver = SatSolver()
        self._deepening = Deepening(system, self._solver, distances)
        self._last = self._search.top + budget.depth
        self._directed = self._bounded = True
        self._found: dict[int, Finding] = {}
        self._sampled: set[int] | None = None

    def run(self) -> dict[int, Finding]:
        """A finding for each goal; the names of the goals are left out."""
        goals = list(self._search.goals)
        try:
            while self._search.goals and (self._directed or self._bounded):
                self._take_turn()
                self._be_content()
            for bad in self._search.goals:
                self._found[bad] = self._longer.get(bad) or self._undecided()
        finally:
            self._search.close()
            self._solver.close()
        return {bad: self._found[bad] for bad in goals}

    @property
    def _refuted(self) -> int:
        """No run of so many steps or fewer ends in a goal that is left."""
        return max(self._search.top, self._deepening.depth) - 1

    def _take_turn(self) -> None:
        reached = self._within_reach()
        waits = self._search.effort < HEAD_START and not reached
        share = SHARE_WITHIN_REACH if reached else SHARE
        behind = self._solver.effort < share * self._search.effort
        if self._bounded and (not self._directed or (not waits and behind)):
            self._look()
        elif self._directed:
            self._advance()

    def _within_reach(self) -> bool:
        """Are all goals that are left known to be within reach?"""
        if self._sampled is None and self._search.sample is not None:
            self._sampled = set(self._search.sample.reached(self._search.goals))
        known = self._sampled or ()
        return all(bad in known for bad in self._search.goals)

    def _advance(self) -> None:
        """Directed search goes on until its next pause."""
        try:
            hit = next(self._turns)
        except StopIteration:
            if self._search.goals:
                proved = Proved("", self._search.lemmas(), Directed.name)
                self._found.update(dict.fromkeys(self._search.goals, proved))
                self._search.goals.clear()
            return
        except Exhausted:
            self._directed = False
            return
        if hit is not None:
            self._reached(hit, Directed.name)
        self._directed = self._search.top <= self._last

    def _look(self) -> None:
        """Bounded search asks about one depth, or goes on asking."""
        deepening = self._deepening
        while deepening.depth < self._search.top:
            deepening.deeper()
        left = self._budget.conflicts - self._solver.work
        answer, bads = deepening.hits(self._search.goals, min(TURN, left))
        if answer is Answer.SAT:
            for bad in bads:
                self._search.drop(bad)
                self._reached(Hit(bad, deepening.choices()), Bounded.name)
        elif answer is Answer.UNSAT:
            deepening.deeper()
        self._bounded = self._solver.work < self._budget.conflicts and deepening.depth <= self._last

    def _reached(self, hit: Hit, engine: str) -> None:
        goal = Goal("", hit.bad)
        self._found[hit.bad] = reached(self._system, goal, hit.choices, True, engine)

    def _be_content(self) -> None:
        """Runs known from elsewhere are shortest ones once all shorter ones are refuted."""
        for bad in [bad for bad in self._longer if bad in self._search.goals]:
            run = self._longer[bad]
            if len(run.choices) <= self._refuted + 1:
                self._search.drop(bad)
                self._found[bad] = structs.replace(run, shortest=True)

    def _undecided(self) -> Undecided:
        if self._search.top > self._last or self._deepening.depth > self._last:
            reason = f"neither a proof nor a run within {self._budget.depth} steps"
        else:
            reason = f"used up its budget of {self._budget.conflicts} conflicts"
        return Undecided("", reason, self._refuted, Directed.name)
