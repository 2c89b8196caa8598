"""Proofs about a system that cannot move would prove nothing: the check that it always can (O3)."""

from __future__ import annotations

from msgspec import Struct

from verifier.evidence.error import Contradiction, DeadEnd, EvidenceError
from verifier.evidence.script import FreshSolver, Moments, Terms, conjunction, negated
from verifier.transition.system import System


class Totality(Struct, frozen=True):
    """obligations: questions to the solver that had to come out as they did."""

    obligations: int


def total(system: System) -> Totality:
    """Check that the start is allowed, every allowed state has an allowed step, and allowed steps
    lead to allowed states. That nothing happens must be such a step.

    Raises Contradiction or DeadEnd when the design's assumptions are at fault, EvidenceError when
    an allowed step leads to a state that is not, Unchecked when the solver gives up.
    """
    at = Moments(system)
    still = _still(system, at)
    now, start, then = at.now, at.start, at.then
    allowed, step = now.term(system.state_allowed), now.term(system.step_allowed)
    questions = {
        "some": allowed,
        "start": negated(start.term(system.state_allowed)),
        "stuck": conjunction([allowed, negated(still.term(system.step_allowed))]),
        "leaves": conjunction([allowed, step, negated(then.term(system.state_allowed))]),
    }
    for name, term in questions.items():
        at.switch(name)
        at.demand(f"(=> {name} {term})")
    solver = FreshSolver(at.lines, only_answers=not system.assumptions)
    if not solver.satisfiable(["some"]):
        raise Contradiction("the assumptions contradict each other: they allow no state at all")
    if solver.satisfiable(["start"]):
        raise Contradiction("the start of the design is not allowed by its assumptions")
    if solver.satisfiable(["stuck"]):
        _other_way(system, solver)
    if solver.satisfiable(["leaves"]):
        raise EvidenceError("an allowed step leads to a state that is not allowed")
    return Totality(len(questions))


def _still(system: System, at: Moments) -> Terms:
    """The terms of the step in which nothing happens."""
    inputs = {latch.node: f"s{i}" for i, latch in enumerate(system.latches)}
    inputs.update({choice.node: at.now.term(choice.still) for choice in system.choices})
    return Terms(system.graph, at.lines, "k", inputs)


def _other_way(system: System, solver: FreshSolver) -> None:
    """A state in which something must happen: is there a step at all? Raises DeadEnd if not, and
    EvidenceError if so, since every circuit may stand still."""
    names = [f"s{i}" for i in range(len(system.latches))]
    state = solver.truths(names)
    at = Moments(system)
    at.demand(at.now.term(system.step_allowed))
    for name, bit in zip(names, state, strict=True):
        at.demand(name if bit else negated(name))
    if FreshSolver(at.lines, only_answers=True).satisfiable([]):
        raise EvidenceError("in an allowed state the step in which nothing happens is not allowed")
    raise DeadEnd(state)
