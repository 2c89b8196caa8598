"""The check of a proof: an inductive invariant, its obligations put to a fresh solver.

The invariant is the conjunction of the proposed clauses, of "not bad" for every goal, and of what
the assumptions in use say of a state. Obligations: no goal and no breach at the start; none after
an allowed step from a state of the invariant; and the steps considered include all allowed ones.
Nothing that an engine says is taken on trust: neither that its clauses are inductive, nor that they
imply the goal.

For "not bad" of many goals stands one condition in which what the goals have in common stands once
(gathering.py); that no goal is true without it is an obligation, too. Whether that condition can
come true is asked at once and, where that is too hard, part by part.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.evidence.error import EvidenceError
from verifier.evidence.invariant import Invariant, check_gathered, check_parts, check_start
from verifier.evidence.steps import Steps
from verifier.transition.system import Goal, Proved, System


class Certificate(Struct, frozen=True):
    """What was discharged. goals: their names.   clauses: of the invariant, "not bad" not counted.
    obligations: what had to be impossible: each goal, a breach of the clauses and of each
    assumption used, at the start and after a step, and a step that is wider than its parts.
    assumptions: names of the design's assumptions that the proof needs, in the design's order.
    """

    goals: tuple[str, ...]
    clauses: int
    obligations: int
    assumptions: tuple[str, ...]


def certify(system: System, goal: Goal, proved: Proved) -> Certificate:
    """Check the proof of one goal. Raises EvidenceError if it does not stand, Unchecked if the
    solver gives up."""
    return certify_all(system, [goal], [proved])


def certify_all(system: System, goals: Sequence[Goal], proofs: Sequence[Proved]) -> Certificate:
    """Check the proofs of several goals together, one proof for each goal and in the same order."""
    if [goal.name for goal in goals] != [proved.goal for proved in proofs]:
        raise EvidenceError("the proofs are not those of the goals")
    distinct = {id(proved.lemmas): proved.lemmas for proved in proofs}
    lemmas = tuple(sorted({lemma for one in distinct.values() for lemma in one}))
    claim = Invariant(system, goals, lemmas)
    check_gathered(claim)
    check_start(claim)
    check_parts(claim)
    used = _needed(Steps(claim))
    count = 1 + 2 * len(goals) + 2 * bool(lemmas) + 2 * len(used)
    named = [claim.assumptions[k].name for k in used]
    names = tuple(name for name in named if name)
    return Certificate(tuple(goal.name for goal in goals), len(lemmas), count, names)


def _needed(steps: Steps) -> list[int]:
    """Discharge everything; indices of the assumptions without which that would not go.

    An assumption in use brings obligations of its own: what it says of states must hold at the
    start and be kept.
    """
    every = range(steps.assumptions)
    waiting = list(steps.dangers)
    used: set[int] = set()
    while waiting:
        danger = waiting.pop(0)
        core = steps.core(danger, every)
        if core is None:
            raise EvidenceError(f"the proof does not stand: {steps.fault(danger, every)}")
        for k in sorted(core - used):
            used.add(k)
            steps.check_start_of(k)
            waiting.append(steps.loss(k))
    for k in sorted(used):
        fewer = sorted(used - {k})
        dangers = [*steps.dangers, *(steps.loss(j) for j in fewer)]
        if all(steps.core(danger, fewer) is not None for danger in dangers):
            used.remove(k)
    return sorted(used)
