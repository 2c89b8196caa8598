"""Many goals at once: one proof for all out of reach, one deepening search for the rest."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.bounded import Bounded, Deepening
from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.engines.simplest import Simplest
from verifier.engines.walk import EngineError, holds
from verifier.solving.answer import Answer
from verifier.transition.system import Finding, Goal, Proved, Reached, System, Undecided


def search_many(system: System, goals: Sequence[Goal], budget: Budget) -> tuple[Finding, ...]:
    """A finding for each goal, in their order; runs are shortest, then have fewest events, then
    fewest motions. The budget is for each search, of which there are at most a few for each goal.
    """
    found = _settle(system, goals, budget)
    simplest: dict[int, Simplest] = {}
    answers: list[Finding] = []
    for goal in goals:
        finding = found[goal.name]
        if isinstance(finding, Reached):
            depth = len(finding.choices)
            if depth not in simplest:
                simplest[depth] = Simplest(system, depth, budget)
            better = simplest[depth].run_into(goal, Bounded.name)
            finding = better if isinstance(better, Reached) else finding
        answers.append(finding)
    return tuple(answers)


def reach_each(system: System, goals: Sequence[Goal], budget: Budget) -> tuple[Finding, ...]:
    """As `search_many`, for questions whether something can happen at all: runs are shortest, but
    much may happen in them that need not."""
    found = _settle(system, goals, budget)
    return tuple(found[goal.name] for goal in goals)


def _settle(system: System, goals: Sequence[Goal], budget: Budget) -> dict[str, Finding]:
    """Proofs and shortest runs by the name of the goal."""
    found: dict[str, Finding] = {}
    left = list({goal.name: goal for goal in goals}.values())
    if len(left) != len(goals):
        raise ValueError("two goals have the same name")
    deepening: Deepening | None = None
    while left:
        group = Goal("any of several", system.graph.any(goal.bad for goal in left))
        finding = Directed().search(system, group, budget)
        if isinstance(finding, Proved):
            found.update({g.name: Proved(g.name, finding.lemmas, finding.engine) for g in left})
            break
        if isinstance(finding, Undecided):
            for goal in left:
                alone = finding if len(left) == 1 else Directed().search(system, goal, budget)
                found[goal.name] = _alone(system, goal, alone, budget)
            break
        if deepening is None:
            deepening = Deepening(system, [goal.bad for goal in left], budget)
        met = _down_to(deepening, left, len(finding.choices), finding)
        found.update(met)
        left = [goal for goal in left if goal.name not in met]
    return found


def _down_to(
    deepening: Deepening, goals: Sequence[Goal], depth: int, known: Reached
) -> dict[str, Finding]:
    """Shortest runs into the goals that up to `depth` steps reach; `known` is one such run."""
    found: dict[str, Finding] = {}
    while True:
        left = [goal for goal in goals if goal.name not in found]
        answer, hits = deepening.hits([goal.bad for goal in left])
        if answer is Answer.UNKNOWN:
            return found or _known(deepening.system, left, known)
        if answer is Answer.SAT:
            for index in hits:
                found[left[index].name] = deepening.run_into(left[index], Bounded.name)
            if len(found) == len(goals):
                return found
        elif deepening.depth < depth:
            deepening.deeper()
        elif not found:
            raise EngineError(f"a run of {depth} steps came and went")
        else:
            return found


def _known(system: System, goals: Sequence[Goal], known: Reached) -> dict[str, Finding]:
    """The run itself, for the goals that it ends in, though it may not be a shortest one."""
    return {
        goal.name: Reached(goal.name, known.states, known.choices, False, known.engine)
        for goal in goals
        if holds(system, goal.bad, known.states[-1])
    }


def _alone(system: System, goal: Goal, finding: Finding, budget: Budget) -> Finding:
    """The best that bounded search can add to what directed search said of one goal."""
    if isinstance(finding, Proved):
        return finding
    depth = len(finding.choices) if isinstance(finding, Reached) else budget.depth
    bounded = Bounded().search(system, goal, Budget(budget.conflicts, depth))
    if isinstance(bounded, Reached):
        return bounded
    if isinstance(finding, Undecided) and isinstance(bounded, Undecided):
        return finding if finding.depth >= bounded.depth else bounded
    return finding
