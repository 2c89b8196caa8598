"""*possible*: some run leads there, and is the operating procedure (Q4)."""

from __future__ import annotations

import functools

from verifier.model.circuit import Property
from verifier.report.result import InstanceResult
from verifier.simulation.judging import violation
from verifier.studies.inquiry import Found, Proven
from verifier.studies.study import Answer, Study, unsettled
from verifier.studies.wording import outcome
from verifier.transition.compiled import Question
from verifier.transition.decode import run_of


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance, with a story for those that hold."""
    item = study.circuit.properties[index]
    results: list[InstanceResult] = []
    proofs: list[Proven] = []
    for question in study.compiled.questions:
        if question.property == index and question.role == "witness":
            results.append(_witness(study, item, question, proofs))
    return Answer(tuple(results), tuple(proofs))


def _witness(
    study: Study, item: Property, question: Question, proofs: list[Proven]
) -> InstanceResult:
    instance = item.instances[question.instance]
    decode = functools.partial(run_of, study.compiled)
    settled = study.inquiry.settle(study.compiled.system, question.goal, decode)
    if isinstance(settled, Found):
        story = study.story(
            settled,
            lambda run: violation(study.circuit, item, instance, run),
            lambda run: outcome(study.circuit, item, instance, run),
            item.name,
        )
        return InstanceResult(instance.label, "holds", instance.words, story=story)
    if isinstance(settled, Proven):
        proofs.append(settled)
        reason = f"It is proved that nothing leads to this: {instance.words}."
        return InstanceResult(instance.label, "violated", instance.words, reason=reason)
    return unsettled(instance, settled, "It is open whether anything leads there.")
