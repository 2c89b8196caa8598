"""Vacuity: what an instance speaks of must be able to happen (Q8)."""

from __future__ import annotations

import functools

from verifier.model.circuit import Instance
from verifier.model.run import Run
from verifier.report.result import InstanceResult
from verifier.simulation.judging import triggered
from verifier.studies.inquiry import Found, Proven
from verifier.studies.study import Study, unsettled
from verifier.transition.compiled import Question
from verifier.transition.decode import run_of


def not_vacuous(study: Study, index: int, instance: int, proofs: list[Proven]) -> InstanceResult:
    """What an instance that nothing breaks answers: that it holds, if its triggers can happen.

    Proofs that a trigger cannot happen are added to `proofs`.
    """
    item = study.circuit.properties[index].instances[instance]
    for question in study.compiled.asked(index, instance):
        if question.role != "trigger":
            continue
        failure = _missing(study, question, item, proofs)
        if failure is not None:
            return failure
    return InstanceResult(item.label, "holds", item.words)


def _missing(
    study: Study, question: Question, instance: Instance, proofs: list[Proven]
) -> InstanceResult | None:
    """None when the trigger is reached by a run that the simulator has replayed."""
    circuit = study.circuit
    item = circuit.properties[question.property]
    trigger = instance.triggers[question.index]

    def meets(run: Run) -> bool:
        return triggered(circuit, item, trigger, run.states[-1])

    if any(triggered(circuit, item, trigger, state) for state in study.visited):
        return None
    decode = functools.partial(run_of, study.compiled)
    settled = study.inquiry.settle(study.compiled.system, question.goal, decode)
    words = instance.trigger_words[question.index]
    if isinstance(settled, Found):
        study.believe(settled, meets, item.name)
        return None
    if isinstance(settled, Proven):
        proofs.append(settled)
        moment = " at rest" if item.moment == "at_rest" else ""
        reason = f"It can never happen{moment} that {words}, so this says nothing."
        return InstanceResult(instance.label, "vacuous", instance.words, reason=reason)
    return unsettled(instance, settled, f"It is open whether this can ever happen: {words}.")
