"""The clauses of a proof that it can do without are left out."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.slice import Slice
from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Lemma, System

# Enough for any question about a single step; a clause stays in when it is not.
CONFLICTS = 100_000


def trim(
    system: System, part: Slice, bads: Sequence[int], lemmas: Sequence[Lemma]
) -> tuple[Lemma, ...]:
    """Those of the lemmas, which together are inductive and exclude each of `bads`, that are needed
    for it as far as unsat cores tell. The answer is again inductive, or else all of them.
    """
    solver = SatSolver()
    frame = Frame(system.graph, Gates(solver), {})
    for literal in (*part.step_allowed, *part.state_allowed):
        solver.add([frame.literal(literal)])
    marks = [solver.fresh() for _ in lemmas]
    latches = system.latches
    for mark, lemma in zip(marks, lemmas, strict=True):
        now = [frame.literal(2 * latches[i].node ^ (not positive)) for i, positive in lemma]
        solver.add([-mark, *now])
    at = {mark: index for index, mark in enumerate(marks)}
    questions = [[frame.literal(bad)] for bad in bads]
    needed: set[int] = set()
    while questions:
        question = questions.pop()
        if solver.solve([*question, *marks], CONFLICTS) is not Answer.UNSAT:
            return tuple(lemmas)
        for index in sorted(at[one] for one in solver.core() if one in at):
            if index not in needed:
                needed.add(index)
                questions.append(
                    [frame.literal(latches[i].next ^ positive) for i, positive in lemmas[index]]
                )
    solver.close()
    return tuple(lemmas[index] for index in sorted(needed))
