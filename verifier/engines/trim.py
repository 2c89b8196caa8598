"""The clauses of a proof that it can do without are left out."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.slice import Slice
from verifier.solving.answer import Answer
from verifier.solving.cnf import Following, Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Lemma, System

# Enough for any question about a single step; a clause stays in when it is not.
CONFLICTS = 100_000


def trim(
    system: System,
    part: Slice,
    lemmas: Sequence[Lemma],
    bads: Sequence[int] = (),
    kept: Sequence[int] = (),
    assumed: Sequence[int] = (),
) -> tuple[Lemma, ...]:
    """Those of the lemmas that are needed, as far as unsat cores tell, for what all of them do
    together: to be inductive, to exclude each of `bads`, and to keep each of `kept` (graph
    literals) true from states in which all of those are. All of them if that is not found out.
    assumed: graph literals that are true in every state that can be reached.
    """
    if not lemmas:
        return ()
    solver = SatSolver()
    gates = Gates(solver)
    frame = Frame(system.graph, gates, {})
    for literal in (*part.step_allowed, *part.state_allowed, *kept, *assumed):
        solver.add([frame.literal(literal)])
    marks = [solver.fresh() for _ in lemmas]
    latches = system.latches
    for mark, lemma in zip(marks, lemmas, strict=True):
        now = [frame.literal(2 * latches[i].node ^ (not positive)) for i, positive in lemma]
        solver.add([-mark, *now])
    at = {mark: index for index, mark in enumerate(marks)}
    questions = [[frame.literal(bad)] for bad in bads]
    if kept:
        then, broken = Following(system, gates, frame), solver.fresh()
        solver.add([-broken, *(-then.literal(one) for one in kept)])
        questions.append([broken])
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
