"""From a run of a slice to a run of the whole system."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.walk import Choices, EngineError, reached, walk
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Goal, Reached, System


def completed(
    system: System,
    goal: Goal,
    chosen: Sequence[int],
    rows: Sequence[Choices],
    shortest: bool,
    engine: str,
) -> Reached:
    """The run in which the choices with index in `chosen` are as in `rows`. The others are free:
    false where that is allowed, else what a solver finds."""
    if walk(system, rows) is not None:
        return reached(system, goal, rows, shortest, engine)
    solver = SatSolver()
    run = Unrolling(system, solver)
    for row in rows:
        frame = run.frames[-1]
        for index in chosen:
            at = frame.literal(2 * system.choices[index].node)
            solver.add([at if row[index] else -at])
        run.extend([system.step_allowed])
    # The rest always has some allowed step, so this is easy; it needs no budget of its own.
    if solver.solve([], 1 << 30) is not Answer.SAT:
        raise EngineError(f"{engine} found a run into {goal.name!r} that nothing completes")
    filled = run.choices()
    solver.close()
    return reached(system, goal, filled, shortest, engine)
