"""The check of what is claimed about *comes to rest*, for and against."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.evidence.certificate import Certificate, certify
from verifier.evidence.clauses import TRUE, ClauseJudge, Clauses, Moment
from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.simulation.replay import ReplayError, replay
from verifier.simulation.rest import can_stay
from verifier.transition.compiled import Compiled
from verifier.transition.graph import FALSE
from verifier.transition.settling import Misfit, steps_of
from verifier.transition.system import Goal, Proved
from verifier.transition.turning import Settled, Thing, Turning

NAME = "comes to rest"


def confirm(compiled: Compiled, settled: Settled) -> Certificate:
    """Check the argument that the circuit comes to rest. Raises EvidenceError if a step of it does
    not stand, Unchecked if the solver gives up."""
    claim = Goal(f"{NAME}: clauses", FALSE)
    clauses = certify(compiled.system, claim, Proved(claim.name, settled.lemmas, ""))
    questions = _Questions(compiled, settled)
    try:
        steps = steps_of(questions.turning, settled)
    except Misfit as misfit:
        raise EvidenceError(f"{NAME}: {misfit}") from misfit
    order = [still.thing for still in settled.order]
    for step in steps:
        questions.refute(step.literal, order[: step.alike], step.words)
    used = questions.discharge() | set(clauses.assumptions)
    count = questions.count + clauses.obligations
    names = tuple(name for name, _ in compiled.system.assumptions if name in used)
    return Certificate((NAME,), len(settled.lemmas), count, names)


def believe_loop(circuit: Circuit, run: Run, loop_from: int) -> None:
    """Raises EvidenceError unless the run is one of the circuit, comes back to state `loop_from` at
    its end, and the circuit can stay among the states from there on for ever without rest."""
    try:
        replay(circuit, run)
    except ReplayError as refusal:
        raise EvidenceError(f"{NAME}: the run does not replay: {refusal}") from refusal
    if not 0 <= loop_from < len(run.steps) or run.states[loop_from] != run.states[-1]:
        raise EvidenceError(f"{NAME}: the run does not come round")
    if not can_stay(circuit, run.states[loop_from:]):
        raise EvidenceError(f"{NAME}: the loop does not keep the circuit from rest")


class _Questions:
    """Collects questions over two moments, then puts them to a fresh solver."""

    def __init__(self, compiled: Compiled, settled: Settled) -> None:
        self.turning = Turning(compiled, settled.lemmas)
        self.count = 0
        self._assumed = [name for name, _ in compiled.system.state_assumptions]
        self._posed: list[tuple[int, tuple[Thing, ...], str]] = []

    def refute(self, literal: int, alike: Sequence[Thing], words: str) -> None:
        """Demand that no two moments that agree on the things make the literal true."""
        self._posed.append((literal, tuple(alike), words))

    def discharge(self) -> set[str]:
        """Names of the assumptions that were needed."""
        clauses = Clauses()
        moment = Moment(self.turning.graph, clauses, lambda node: clauses.fresh())
        for literal in self.turning.always:
            clauses.demand([moment.literal(literal)])
        uses = [clauses.fresh() for _ in self._assumed]
        for use, literal in zip(uses, self.turning.assumed, strict=True):
            clauses.demand([-use, moment.literal(literal)])
        alike: dict[tuple[Thing, ...], int] = {(): TRUE}
        faults = []
        for literal, things, words in self._posed:
            # Most questions have the things of the one before, and perhaps one more.
            known = next(k for k in range(len(things), -1, -1) if things[:k] in alike)
            for k in range(known, len(things)):
                same = moment.literal(self.turning.same(things[k]))
                alike[things[: k + 1]] = clauses.both(alike[things[:k]], same)
            faults.append((clauses.both(moment.literal(literal), alike[things]), words))
        self.count = len(faults)
        judge = ClauseJudge(clauses, only_answers=not uses)
        used: set[str] = set()
        for literal, words in faults:
            if judge.possible([literal, *uses]):
                raise EvidenceError(f"{NAME}: {words}")
            core = judge.used() if uses else set()
            used |= {name for name, use in zip(self._assumed, uses, strict=True) if use in core}
        return used
