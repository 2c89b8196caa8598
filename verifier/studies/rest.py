"""*comes to rest*: with hands and surroundings still, rest is always reached (Q9, M6)."""

from __future__ import annotations

from typing import Final

from verifier.engines.lasso import Loops
from verifier.engines.rounds import settle_rest
from verifier.evidence.settling import believe_loop, confirm
from verifier.model.run import Run
from verifier.report.result import InstanceResult, PropertyResult
from verifier.simulation.rest import can_stay
from verifier.studies.free import WHOLE, free_result
from verifier.studies.idle import without_idle_events
from verifier.studies.inquiry import Open, Proven
from verifier.studies.story import tell
from verifier.studies.study import Study, unsettled
from verifier.studies.wording import restless_outcome
from verifier.transition.decode import run_of
from verifier.transition.turning import Settled

NAME: Final = "comes to rest"


def decide(study: Study) -> PropertyResult:
    """The verdict on the design, found once."""
    if study.rest is None:
        study.rest = _decided(study)
    return study.rest


def settled(study: Study) -> Proven | None:
    """The proof that the circuit comes to rest, if there is one."""
    answer = decide(study)
    if study.rests is None or answer.proof is None:
        return None
    proof = answer.proof
    return Proven(proof.engine, proof.clauses, proof.obligations, study.rests[1])


def _decided(study: Study) -> PropertyResult:
    circuit = study.circuit
    claimed = settle_rest(study.compiled, study.inquiry.budget, study.inquiry.crew)
    if isinstance(claimed, Settled):
        certificate = confirm(study.compiled, claimed)
        study.rests = (claimed, certificate.assumptions)
        proven = Proven(
            "settling", certificate.clauses, certificate.obligations, certificate.assumptions
        )
        return free_result(circuit, NAME, InstanceResult("", "holds", NAME), (proven,))
    if isinstance(claimed, Loops):
        return free_result(circuit, NAME, _restless(study, claimed))
    found = Open(claimed.reason, claimed.depth, claimed.kinds)
    return free_result(
        circuit, NAME, unsettled(WHOLE, found, "It is open whether rest is always reached.")
    )


def _restless(study: Study, claimed: Loops) -> InstanceResult:
    """A run into a loop, told up to where the loop has been gone round once."""
    circuit = study.circuit
    run = run_of(study.compiled, claimed.reached)
    length = len(run.steps) - claimed.loop_from
    believe_loop(circuit, run, claimed.loop_from)

    def loops(shorter: Run) -> bool:
        begin = len(shorter.steps) - length
        return (
            begin >= 0
            and shorter.states[begin] == shorter.states[-1]
            and can_stay(circuit, shorter.states[begin:])
        )

    best = without_idle_events(circuit, run, loops)
    begin = len(best.steps) - length
    believe_loop(circuit, best, begin)
    study.loops.append((best, begin))
    outcome = restless_outcome(circuit, best, begin)
    shortest = claimed.reached.shortest
    story = tell(circuit, best, outcome, shortest=shortest, loop_from=begin)
    return InstanceResult("", "violated", NAME, story=story)
