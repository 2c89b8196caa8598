"""Many goals at once: what proves or finds many of them together comes first."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from verifier.engines.bounded import Bounded
from verifier.engines.directed import Directed
from verifier.engines.distances import NEVER, Distances
from verifier.engines.engine import Budget
from verifier.engines.guess import Guesser
from verifier.engines.lasting import guesses
from verifier.engines.race import Race
from verifier.engines.relation import Allowance, Exhausted
from verifier.engines.simplest import Simplest
from verifier.engines.slice import slice_of
from verifier.engines.together import Together, out_of_sight
from verifier.engines.walk import start_of
from verifier.transition.system import Finding, Goal, Lemma, Proved, Reached, System

# Goals for which runs are guessed before anything else is known, to see whether guesses hit.
PROBES = 3
# Rounds in which goals that are not out of reach together are told from the others.
ROUNDS = 60
# What proofs by clauses of earlier ones are told to be from, and how many clauses are tried.
EARLIER = "earlier proof"
MOST_EARLIER = 5_000


def search_many(system: System, goals: Sequence[Goal], budget: Budget) -> tuple[Finding, ...]:
    """A finding for each goal, in their order; runs are shortest, then have fewest events, then
    fewest changes of surroundings, then fewest motions. The budget is for each search, of which
    there are at most a few for each goal.
    """
    simplest: dict[int, Simplest] = {}
    answers: list[Finding] = []
    for goal, finding in zip(goals, reach_each(system, goals, budget), strict=True):
        if isinstance(finding, Reached) and finding.shortest:
            depth = len(finding.choices)
            if depth not in simplest:
                simplest[depth] = Simplest(system, depth, budget)
            better = simplest[depth].run_into(goal, Bounded.name)
            answers.append(better if isinstance(better, Reached) else finding)
        else:
            answers.append(finding)
    return tuple(answers)


def reach_each(
    system: System, goals: Sequence[Goal], budget: Budget, earlier: Sequence[Lemma] = ()
) -> tuple[Finding, ...]:
    """As `search_many`, for questions whether something can happen at all: runs are shortest, but
    much may happen in them that need not. earlier: clauses that the start satisfies, of proofs of
    this system or of a like one, to be tried as guesses."""
    if len({goal.name for goal in goals}) != len(goals):
        raise ValueError("two goals have the same name")
    if not goals:
        return ()
    bads = list(dict.fromkeys(goal.bad for goal in goals))
    found = _Settling(system, bads, budget, earlier).run()
    return tuple(structs.replace(found[goal.bad], goal=goal.name) for goal in goals)


class _Settling:
    """Findings for goals, by their literals: each by the cheapest way that settles it."""

    def __init__(
        self, system: System, goals: Sequence[int], budget: Budget, earlier: Sequence[Lemma]
    ) -> None:
        self._system = system
        self._goals = goals
        self._budget = budget
        self._earlier = earlier
        self._distances = Distances(system, goals)
        self._guesser = Guesser(system, self._distances)
        self._found: dict[int, Finding] = {}
        # Runs that may not be shortest ones, and goals known to be out of reach.
        self._longer: dict[int, Reached] = {}
        self._refuted: list[int] = []

    def run(self) -> dict[int, Finding]:
        self._at_the_start()
        self._out_of_sight()
        self._together()
        self._one_by_one()
        return self._found

    def _left(self) -> list[int]:
        return [bad for bad in self._goals if bad not in self._found]

    def _at_the_start(self) -> None:
        values = {latch.node: latch.start for latch in self._system.latches}
        truth = self._system.graph.evaluate(self._goals, values)
        for bad, true in zip(self._goals, truth, strict=True):
            if true:
                states = (start_of(self._system),)
                self._found[bad] = Reached("", states, (), True, Directed.name)

    def _out_of_sight(self) -> None:
        """Goals without a distance."""
        never = [bad for bad in self._left() if self._distances.of(bad) == NEVER]
        if never:
            self._proved(never, out_of_sight(self._system, never, self._distances))

    def _together(self) -> None:
        left = self._left()
        if left and self._guesses_hit(left):
            self._guess(left)
        self._with_guesses(())
        if 0 < len(self._earlier) <= MOST_EARLIER:
            self._with_guesses(self._earlier, EARLIER)
        if self._system.phases:
            guessed = guesses(self._system, slice_of(self._system, self._left()), self._left())
            self._with_guesses(guessed)

    def _with_guesses(self, guessed: Sequence[Lemma], engine: str = Directed.name) -> None:
        """Goals that are out of reach together, perhaps with some of the guesses."""
        rest = [bad for bad in self._left() if bad not in self._longer]
        if not rest:
            return
        allowance = Allowance(self._budget.conflicts)
        together = Together(self._system, rest, self._distances, allowance, guessed)
        try:
            at_once = not guessed and together.inductive()
            kept = rest if at_once else together.settle(rest, ROUNDS)
            if kept:
                self._proved(kept, together.lemmas(kept), engine)
        except Exhausted:
            return
        finally:
            together.close()

    def _guesses_hit(self, goals: Sequence[int]) -> bool:
        """Whether most of a few guesses are right."""
        probes = list(dict.fromkeys(goals[:: max(1, len(goals) // PROBES)]))[:PROBES]
        self._guess(probes)
        hits = sum(bad in self._found or bad in self._longer for bad in probes)
        return 2 * hits > len(probes)

    def _guess(self, goals: Sequence[int]) -> None:
        for bad in goals:
            if bad in self._found or bad in self._longer:
                continue
            run = self._guesser.run_into(bad)
            if run is not None and run.shortest:
                self._found[bad] = run
            elif run is not None:
                self._longer[bad] = run

    def _one_by_one(self) -> None:
        """What is left: all in one race, then, if its budget ended, each in its own."""
        self._guess(self._left())
        left = self._left()
        if left:
            self._found.update(self._race(left))
        for bad in left if len(left) > 1 else ():
            if not settled(self._found[bad]):
                self._found.update(self._race([bad]))

    def _race(self, goals: Sequence[int]) -> dict[int, Finding]:
        longer = {bad: run for bad, run in self._longer.items() if bad in goals}
        assumed = [bad ^ 1 for bad in self._refuted]
        return Race(self._system, goals, self._distances, self._budget, longer, assumed).run()

    def _proved(
        self, goals: Sequence[int], lemmas: tuple[Lemma, ...], engine: str = Directed.name
    ) -> None:
        proved = Proved("", lemmas, engine)
        self._found.update(dict.fromkeys(goals, proved))
        self._refuted += goals


def settled(finding: Finding) -> bool:
    """Nothing better is to be had."""
    return isinstance(finding, Proved) or (isinstance(finding, Reached) and finding.shortest)
