"""Lemmas of an earlier proof, of this design or of what it was before a change, as guesses.

Those that still are inductive, together with "not this goal" of as many goals as possible, are
found by leaving out what some step breaks. So it does not matter where the guesses came from.
"""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.distances import NEVER, Distances
from verifier.engines.relation import Allowance, Exhausted
from verifier.engines.together import Together
from verifier.transition.system import Goal, Lemma, Proved, System

NAME = "earlier proof"
# Conflicts spent on guesses, and rounds in which some are left out.
CONFLICTS = 20_000
ROUNDS = 200
# Beyond so many guesses, or nodes of a system, none is tried.
MOST_GUESSES = 5_000
MOST_NODES = 20_000


def still_proved(
    system: System, goals: Sequence[Goal], guesses: Sequence[Lemma]
) -> dict[str, Proved]:
    """Proofs of goals with some of the guesses, all of which hold at the start, by the names of the
    goals. None of a goal says nothing of it."""
    if not guesses or len(guesses) > MOST_GUESSES or len(system.graph.fanins) > MOST_NODES:
        return {}
    start = {latch.node: latch.start for latch in system.latches}
    bads = list(dict.fromkeys(goal.bad for goal in goals))
    met = system.graph.evaluate(bads, start)
    left = [bad for bad, true in zip(bads, met, strict=True) if not true]
    distances = Distances(system, left)
    # What has no distance needs no clauses that anybody would have to remember.
    left = [bad for bad in left if distances.of(bad) != NEVER]
    if not left:
        return {}
    together = Together(system, left, distances, Allowance(CONFLICTS), guesses)
    try:
        kept = set(together.settle(left, ROUNDS))
        lemmas = together.lemmas(sorted(kept)) if kept else ()
    except Exhausted:
        return {}
    finally:
        together.close()
    return {goal.name: Proved(goal.name, lemmas, NAME) for goal in goals if goal.bad in kept}
