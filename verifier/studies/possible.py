"""*possible*: some run leads there, and is the operating procedure (Q4)."""

from __future__ import annotations

from verifier.model.circuit import Instance
from verifier.report.result import InstanceResult, Story
from verifier.studies.inquiry import Found, Proven, Settled
from verifier.studies.instances import stories
from verifier.studies.study import Answer, Study, unsettled
from verifier.studies.wording import nothing_leads


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance, with a story for those that hold and are told."""
    item = study.circuit.properties[index]
    asked = study.asked(index, "witness")
    answers = study.settle(asked)
    told = stories(study, item, asked, answers)
    results = tuple(
        _result(item.instances[number], answer, told.get(number))
        for (number, _), answer in zip(asked, answers, strict=True)
    )
    proofs = dict.fromkeys(answer for answer in answers if isinstance(answer, Proven))
    return Answer(results, tuple(proofs))


def _result(instance: Instance, answer: Settled, story: Story | None) -> InstanceResult:
    if isinstance(answer, Found):
        return InstanceResult(instance.label, "holds", instance.words, story=story)
    if isinstance(answer, Proven):
        reason = nothing_leads(instance)
        return InstanceResult(instance.label, "violated", instance.words, reason=reason)
    return unsettled(instance, answer, "It is open whether anything leads there.")
