"""*recovers*: from every reachable state the procedure leads to the condition (Q6)."""

from __future__ import annotations

import functools

from verifier.model.circuit import Instance
from verifier.report.result import InstanceResult
from verifier.simulation.judging import procedure_over, violation
from verifier.studies.inquiry import Found, Proven
from verifier.studies.study import Answer, Study, unsettled
from verifier.studies.wording import outcome
from verifier.transition.recovery import Recovery, recovery, run_of


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance; each has a system of its own."""
    proofs: list[Proven] = []
    count = len(study.circuit.properties[index].instances)
    results = tuple(_instance(study, index, instance, proofs) for instance in range(count))
    return Answer(results, tuple(proofs))


def _instance(study: Study, index: int, number: int, proofs: list[Proven]) -> InstanceResult:
    circuit = study.circuit
    item = circuit.properties[index]
    instance = item.instances[number]
    posed = recovery(study.compiled, index, number)
    (settled,) = study.inquiry.settle(posed.system, [posed.goal], functools.partial(run_of, posed))
    if isinstance(settled, Proven):
        return _carried_out(study, item.name, instance, posed, settled, proofs)
    if isinstance(settled, Found):
        story = study.story(
            settled,
            lambda run: violation(circuit, item, instance, run),
            lambda run: outcome(circuit, item, instance, run),
            item.name,
        )
        return InstanceResult(instance.label, "violated", instance.words, story=story)
    return unsettled(instance, settled, "It is open whether the procedure can fail.")


def _carried_out(
    study: Study,
    name: str,
    instance: Instance,
    posed: Recovery,
    proof: Proven,
    proofs: list[Proven],
) -> InstanceResult:
    """It holds, if the procedure can be carried out at all (Q8)."""
    run_to = functools.partial(run_of, posed)
    (over,) = study.inquiry.settle(posed.system, [posed.over], run_to, simplest=False)
    if isinstance(over, Found):
        study.believe(over, lambda run: procedure_over(study.circuit, instance, run), name)
        proofs.append(proof)
        return InstanceResult(instance.label, "holds", instance.words)
    if isinstance(over, Proven):
        proofs.append(over)
        reason = "The procedure can never be carried out to its end, so nothing is said."
        return InstanceResult(instance.label, "vacuous", instance.words, reason=reason)
    return unsettled(instance, over, "It is open whether the procedure can be carried out.")
