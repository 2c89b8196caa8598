"""The loosened circuit: with everything kept it is the circuit, and to let go only adds (Q13)."""

from __future__ import annotations

from pathlib import Path

import pytest

from verifier import load
from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.loose import Loose, loosened

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = (
    "specs/heron/heron.ilk",
    "specs/skua/skua.ilk",
    "tests/outside/designs/trapped_volumes.ilk",
    "tests/outside/designs/shuttle_or.ilk",
    "tests/outside/designs/restrictor_against_exhaust.ilk",
    "tests/outside/designs/memory_5_2.ilk",
)


class Side:
    """What one of two systems answers to the same state and choices."""

    def __init__(self, compiled: Compiled, gates: Gates, given: dict[int, int]) -> None:
        self.frame = Frame(compiled.system.graph, gates, given)
        system = compiled.system
        questions = [q.goal for q in compiled.questions if q.role != "trigger"]
        self.roots = {latch.name: latch.next for latch in system.latches}
        self.roots |= {goal.name: goal.bad for goal in [*questions, compiled.contest]}
        self.roots |= {"step": system.step_allowed, "state": system.state_allowed}


def both(own: Compiled, loose: Loose) -> tuple[SatSolver, Side, Side, dict[object, int]]:
    """Two sides over the same state and choices; and the solver literal of each duty."""
    solver = SatSolver()
    gates = Gates(solver)
    choices = {choice.name: solver.fresh() for choice in own.system.choices}
    values = [solver.fresh() for _ in own.system.latches]
    sides = []
    duty = {one: solver.fresh() for one in loose.keeps}
    for compiled in (own, loose.compiled):
        system = compiled.system
        given = {latch.node: v for latch, v in zip(system.latches, values, strict=True)}
        given |= {choice.node: choices[choice.name] for choice in system.choices}
        if compiled is loose.compiled:
            given |= {node: duty[one] for one, node in loose.keeps.items()}
        sides.append(Side(compiled, gates, given))
        solver.add([sides[-1].frame.literal(system.encoding)])
    return solver, sides[0], sides[1], dict(duty)


@pytest.mark.parametrize("name", DESIGNS)
def test_with_everything_kept_it_is_the_circuit(name: str) -> None:
    own = compile_circuit(load(ROOT / name).circuit)
    loose = loosened(own)
    assert [one.name for one in own.system.latches] == [
        one.name for one in loose.compiled.system.latches
    ]
    assert {one.name for one in own.system.choices} == {
        one.name for one in loose.compiled.system.choices
    }
    solver, plain, free, duty = both(own, loose)
    kept = list(duty.values())
    assert set(plain.roots) == set(free.roots)
    for root, literal in plain.roots.items():
        one, other = plain.frame.literal(literal), free.frame.literal(free.roots[root])
        for unequal in ([one, -other], [-one, other]):
            assert solver.solve([*kept, *unequal], 200_000) is Answer.UNSAT, root


def test_what_is_let_go_may_be_as_it_was() -> None:
    """From any state, whatever the circuit does next it may also do with all let go; there is a
    value of what is free for it, which a solver finds for one random step after the other."""
    own = compile_circuit(load(ROOT / DESIGNS[0]).circuit)
    loose = loosened(own)
    solver, plain, free, duty = both(own, loose)
    step = plain.frame.literal(plain.roots["step"])
    latches = [latch.name for latch in own.system.latches]
    here = [plain.frame.literal(2 * latch.node) for latch in own.system.latches]
    chosen = [plain.frame.literal(2 * choice.node) for choice in own.system.choices]
    for number in range(60):
        # A walk through different states, by the bits of a number.
        wish = [v if (number * 7919 >> k % 13) & 1 else -v for k, v in enumerate([*here, *chosen])]
        picked: list[int] = [step]
        for literal in wish:
            if solver.solve([*picked, literal], 10_000) is Answer.SAT:
                picked.append(literal)
            else:
                picked.append(-literal)
        assert solver.solve(picked, 10_000) is Answer.SAT
        nexts = [plain.frame.literal(plain.roots[latch]) for latch in latches]
        after = [v if solver.value(v) else -v for v in nexts]
        may = [free.frame.literal(free.roots[latch]) for latch in latches]
        same = [m if value == v else -m for m, value, v in zip(may, after, nexts, strict=True)]
        loosely = [-one for one in duty.values()]
        assert solver.solve([*picked, *same, *loosely], 100_000) is Answer.SAT
