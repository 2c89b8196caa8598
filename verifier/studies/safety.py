"""*never*, *always* and *order*: can a state be reached that breaks them? (Q2, Q3, Q5)"""

from __future__ import annotations

import functools

from verifier.model.circuit import Property
from verifier.report.result import InstanceResult
from verifier.simulation.judging import violation
from verifier.studies.inquiry import Found, Open, Proven
from verifier.studies.study import Answer, Study, unsettled
from verifier.studies.triggers import triggers_met
from verifier.studies.wording import outcome
from verifier.transition.decode import run_of


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance; those that nothing breaks must not be vacuous either."""
    item = study.circuit.properties[index]
    questions = study.compiled.asked_by(index, "bad")
    settled = study.inquiry.settle(
        study.compiled.system,
        [question.goal for question in questions],
        functools.partial(run_of, study.compiled),
    )
    unbroken = [
        question.instance
        for question, answer in zip(questions, settled, strict=True)
        if isinstance(answer, Proven)
    ]
    met = triggers_met(study, index, unbroken)
    results = []
    for question, answer in zip(questions, settled, strict=True):
        if isinstance(answer, Proven):
            results.append(met.results[question.instance])
        else:
            results.append(_not_proved(study, item, question.instance, answer))
    proofs = [answer for answer in settled if isinstance(answer, Proven)]
    return Answer(tuple(results), tuple(dict.fromkeys((*proofs, *met.proofs))))


def _not_proved(study: Study, item: Property, index: int, answer: Found | Open) -> InstanceResult:
    instance = item.instances[index]
    if isinstance(answer, Open):
        return unsettled(instance, answer, "It is open whether this can break.")
    story = study.story(
        answer,
        lambda run: violation(study.circuit, item, instance, run),
        lambda run: outcome(study.circuit, item, instance, run),
        item.name,
    )
    return InstanceResult(instance.label, "violated", instance.words, story=story)
