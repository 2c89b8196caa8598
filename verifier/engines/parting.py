"""Bounded search for orders of movements that part after the same event and end apart (Q11)."""

from __future__ import annotations

from collections.abc import Collection

from msgspec import Struct

from verifier.engines.bounded import Bounded
from verifier.engines.engine import Budget
from verifier.engines.simplest import Simplest
from verifier.engines.slice import slice_of
from verifier.engines.walk import reached
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Goal, Reached
from verifier.transition.twofold import Twofold

# How many steps longer than the shortest the ways may be that part other elements.
MORE_STEPS = 2
# Steps times nodes of the graph: what is laid out for the solver at most.
MOST_NODES = 300_000
# Beyond this, less work is spent on a simpler run; beyond the most, none.
FEW_NODES = 60_000


class Parted(Struct, frozen=True):
    """runs: by element, a shortest run that parts it.

    depth: no run of up to so many steps parts any other element that was asked about.
    """

    runs: dict[int, Reached]
    depth: int


def part(twofold: Twofold, elements: Collection[int], budget: Budget) -> Parted:
    """Runs of growing length, until one parts an element and a few steps more, or the budget is
    used up. Claims, as of every engine."""
    system = twofold.system
    goals = {element: twofold.goals[element] for element in sorted(elements)}
    part_of = slice_of(system, [goal.bad for goal in goals.values()])
    solver = SatSolver()
    run = Unrolling(system, solver)
    most = min(budget.depth, MOST_NODES // len(system.graph.fanins))
    found: dict[int, Reached] = {}
    depth = 0
    while depth <= most:
        frame = run.frames[depth]
        answer = Answer.SAT
        while answer is Answer.SAT and len(found) < len(goals):
            left = {e: frame.literal(goal.bad) for e, goal in goals.items() if e not in found}
            wanted = solver.fresh()
            solver.add([-wanted, *left.values()])
            answer = solver.solve([wanted], budget.conflicts - solver.work)
            if answer is Answer.SAT:
                choices = run.choices()
                for element, literal in left.items():
                    if solver.value(literal):
                        goal = goals[element]
                        found[element] = reached(system, goal, choices, True, Bounded.name)
                if depth + MORE_STEPS < most:
                    most = depth + MORE_STEPS
        if answer is Answer.UNKNOWN or len(found) == len(goals):
            break
        depth += 1
        run.extend(part_of.step_allowed)
    solver.close()
    return Parted(found, depth - 1)


def simplest(twofold: Twofold, element: int, known: Reached, budget: Budget) -> Reached:
    """Among the runs as long as this one, one with fewest events, if the budget lasts and not too
    much has to be laid out; both what a conflict costs and how many it takes grow with that."""
    steps = len(known.choices)
    nodes = steps * len(twofold.system.graph.fanins)
    if nodes > MOST_NODES:
        return known
    conflicts = budget.conflicts * FEW_NODES**2 // max(nodes, FEW_NODES) ** 2
    goal = Goal("simplest parting", twofold.goals[element].bad)
    within = Budget(max(conflicts, 1), budget.depth)
    better = Simplest(twofold.system, steps, within).run_into(goal, Bounded.name)
    return better if isinstance(better, Reached) else known
