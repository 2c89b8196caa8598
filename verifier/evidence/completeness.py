"""The check that no run with few faults breaks a claim, but for those in which sets strike that are
told.

Everything is put together here from the system and the sets, so that nothing is taken from the
search but the claims themselves: first that at most so many faults strike, then for each claim what
breaks it and is in none of its sets. The rest is the check of any proof.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from verifier.evidence.certificate import Certificate, certify_all
from verifier.transition.bounds import Bounds, bounded
from verifier.transition.system import Goal, Lemma, Proved, System

LEMMAS = "guards"


class Guarded(Struct, frozen=True):
    """A claim that stands where none of the sets of faults has struck as a whole: that a goal is
    out of reach, or that no clause of some is broken."""

    claim: Goal | tuple[Lemma, ...]
    sets: tuple[tuple[int, ...], ...]


def certify_guarded(
    system: System, struck: Sequence[int], most: int, guarded: Iterable[Guarded]
) -> Certificate:
    """Check all of it together, for runs in which at most so many faults strike.

    struck: for each fault the literal over the latches that it has struck. Raises EvidenceError if
    it does not stand, Unchecked if the solver gives up.
    """
    within = bounded(system, struck, Bounds(most))
    graph = within.graph
    goals = []
    for number, one in enumerate(guarded, 1):
        claim = one.claim
        told = (graph.all(struck[k] for k in sorted(faults)) for faults in one.sets)
        name, bad = f"lemma {number}", 0
        if isinstance(claim, Goal):
            name, bad = claim.name, claim.bad
        else:
            latches = within.latches
            bad = graph.any(
                graph.all(2 * latches[i].node ^ positive for i, positive in lemma)
                for lemma in claim
            )
        goals.append(Goal(name, graph.both(bad, graph.any(told) ^ 1)))
    proofs = [Proved(goal.name, (), LEMMAS) for goal in goals]
    return certify_all(within, goals, proofs)
