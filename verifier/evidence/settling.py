"""The check of what is claimed about *comes to rest*, for and against."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.evidence.certificate import Certificate, certify
from verifier.evidence.error import EvidenceError
from verifier.evidence.script import FreshSolver, Terms
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
        graph = self.turning.graph
        inputs = {node: f"i{node}" for node in graph.names}
        lines = [f"(declare-const {name} Bool)" for name in inputs.values()]
        terms = Terms(graph, lines, "n", inputs)
        demands = [terms.term(literal) for literal in self.turning.always]
        switched = {f"use{k}": literal for k, literal in enumerate(self.turning.assumed)}
        same = {thing: f"same{k}" for k, thing in enumerate(self.turning.things)}
        switched.update({name: self.turning.same(thing) for thing, name in same.items()})
        asked = {f"ask{k}": literal for k, (literal, _, _) in enumerate(self._posed)}
        for name, literal in {**switched, **asked}.items():
            term = terms.term(literal)
            lines += [f"(declare-const {name} Bool)", f"(assert (=> {name} {term}))"]
        lines += [f"(assert {term})" for term in demands]
        solver = FreshSolver(lines, only_answers=not self._assumed)
        used: set[str] = set()
        helpful = [f"use{k}" for k in range(len(self._assumed))]
        for k, (_, alike, words) in enumerate(self._posed):
            switches = [f"ask{k}", *(same[thing] for thing in alike)]
            if solver.satisfiable([*switches, *helpful]):
                raise EvidenceError(f"{NAME}: {words}")
            used |= {name for j, name in enumerate(self._assumed) if f"use{j}" in solver.used()}
        self.count = len(self._posed)
        return used
