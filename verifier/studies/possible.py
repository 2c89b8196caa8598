"""*possible*: some run leads there, and is the operating procedure (Q4)."""

from __future__ import annotations

import functools

from verifier.model.circuit import Property
from verifier.report.result import InstanceResult
from verifier.simulation.judging import violation
from verifier.studies.inquiry import Found, Proven, Settled
from verifier.studies.study import Answer, Study, unsettled
from verifier.studies.wording import outcome
from verifier.transition.decode import run_of


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance, with a story for those that hold."""
    item = study.circuit.properties[index]
    questions = study.compiled.asked_by(index, "witness")
    settled = study.inquiry.settle(
        study.compiled.system,
        [question.goal for question in questions],
        functools.partial(run_of, study.compiled),
    )
    results = tuple(
        _witness(study, item, question.instance, answer)
        for question, answer in zip(questions, settled, strict=True)
    )
    proofs = dict.fromkeys(answer for answer in settled if isinstance(answer, Proven))
    return Answer(results, tuple(proofs))


def _witness(study: Study, item: Property, index: int, answer: Settled) -> InstanceResult:
    instance = item.instances[index]
    if isinstance(answer, Found):
        story = study.story(
            answer,
            lambda run: violation(study.circuit, item, instance, run),
            lambda run: outcome(study.circuit, item, instance, run),
            item.name,
        )
        return InstanceResult(instance.label, "holds", instance.words, story=story)
    if isinstance(answer, Proven):
        reason = f"It is proved that nothing leads to this: {instance.words}."
        return InstanceResult(instance.label, "violated", instance.words, reason=reason)
    return unsettled(instance, answer, "It is open whether anything leads there.")
