"""The obligations of an invariant that are about a step: it leads to nothing that is excluded."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from msgspec import Struct

from verifier.evidence.clauses import ClauseJudge, Clauses
from verifier.evidence.invariant import Invariant, refuse_any
from verifier.solving.answer import Answer

# Conflicts after which the goals are asked about part by part.
AT_ONCE = 1_000
# Conflicts for the question whether the goals, or a part of them, are possible in any state at all.
ANYWHERE = 200


class Danger(Struct, frozen=True):
    """Something that must not be after a step, as a solver literal; of an assumption its index."""

    what: Literal["goals", "clauses", "assumption"]
    literal: int
    index: int = -1


class Steps:
    """A state of the invariant, an allowed step and the state after it, told to a fresh solver.

    dangers: what may not be after the step whatever is assumed.   assumptions: their number.
    """

    def __init__(self, claim: Invariant) -> None:
        self._claim = claim
        self._clauses = clauses = Clauses()
        now = claim.any_moment(clauses)
        self._then = then = claim.after(now)
        self.assumptions = len(claim.assumptions)
        clauses.demand([now.literal(claim.system.encoding)])
        clauses.demand([-claim.condition.value(now)])
        for lemma in claim.lemmas:
            clauses.demand(claim.clause(now, lemma))
        self._uses = [clauses.fresh() for _ in claim.assumptions]
        for use, assumed in zip(self._uses, claim.assumptions, strict=True):
            clauses.demand([-use, now.literal(assumed.step)])
            clauses.demand([-use, now.literal(assumed.state)])
        self.dangers = [Danger("goals", claim.condition.value(then))]
        if claim.lemmas:
            self.dangers.append(Danger("clauses", claim.broken(then)))
        self._kept = [then.literal(assumed.state) for assumed in claim.assumptions]
        self._parts = [
            [*map(then.literal, literals), behind.value(then)]
            for literals, behind in claim.condition.parts()
        ]
        self._judge = ClauseJudge(clauses, only_answers=not claim.assumptions)
        self._left = [k for k, anywhere in enumerate(_anywhere(claim)) if anywhere]

    def loss(self, index: int) -> Danger:
        """The state after the step is not as the assumption wants it."""
        return Danger("assumption", -self._kept[index], index)

    def check_start_of(self, index: int) -> None:
        """What the assumption says of states holds at the start."""
        clauses, assumed = Clauses(), self._claim.assumptions[index]
        lost = -self._claim.start(clauses).literal(assumed.state)
        refuse_any(clauses, [(lost, f"assumption {assumed.name}: at the start")])

    def core(self, danger: Danger, assumed: Sequence[int]) -> set[int] | None:
        """Of the assumptions (indices) those that the danger is averted by; None if it is not.
        Raises Unchecked when the solver gives up."""
        uses = {self._uses[k]: k for k in assumed}
        if danger.what != "goals":
            return self._refuted([danger.literal], uses)
        if not self._left:
            return set()
        answer = self._judge.ask([danger.literal, *uses], AT_ONCE)
        if answer is Answer.SAT:
            return None
        if answer is Answer.UNSAT:
            return self._core(uses)
        found: set[int] = set()
        for part in self._left:
            core = self._refuted(self._parts[part], uses)
            if core is None:
                return None
            found |= core
        return found

    def fault(self, danger: Danger, assumed: Iterable[int]) -> str:
        """Words for what can happen."""
        if danger.what == "clauses":
            return "clauses: after a step"
        if danger.what == "assumption":
            return f"assumption {self._claim.assumptions[danger.index].name}: after a step"
        literals = [(self._then.literal(goal.bad), goal.name) for goal in self._claim.goals]
        self._judge.tell()
        uses = [self._uses[k] for k in assumed]
        names = (name for literal, name in literals if self._judge.possible([literal, *uses]))
        return f"{next(names, 'the goals')}: after a step"

    def _refuted(self, literals: Sequence[int], uses: dict[int, int]) -> set[int] | None:
        return None if self._judge.possible([*literals, *uses]) else self._core(uses)

    def _core(self, uses: dict[int, int]) -> set[int]:
        """For systems without assumptions the solver is not asked."""
        return {uses[one] for one in self._judge.used() if one in uses} if uses else set()


def _anywhere(claim: Invariant) -> list[bool]:
    """For each part of the goals whether it may be true in some state in which no lemma is broken.
    What is true in none is not true after a step either, since lemmas are kept."""
    clauses = Clauses()
    moment = claim.any_moment(clauses)
    for lemma in claim.lemmas:
        clauses.demand(claim.clause(moment, lemma))
    whole = claim.condition.value(moment)
    parts = [
        [*map(moment.literal, literals), behind.value(moment)]
        for literals, behind in claim.condition.parts()
    ]
    judge = ClauseJudge(clauses, only_answers=True)
    answer = judge.ask([whole], ANYWHERE)
    found = [answer is not Answer.UNSAT] * len(parts)
    if answer is Answer.UNKNOWN:
        for number, part in enumerate(parts):
            found[number] = judge.ask(part, ANYWHERE) is not Answer.UNSAT
            if found[number]:
                break
    return found
