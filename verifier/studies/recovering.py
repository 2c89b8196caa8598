"""*recovers*: from every reachable state the procedure leads to the condition (Q6)."""

from __future__ import annotations

import functools

from verifier.model.circuit import Instance
from verifier.report.result import InstanceResult, Story
from verifier.studies.inquiry import Found, Proven, Settled
from verifier.studies.instances import stories
from verifier.studies.study import Answer, Asked, Study, unsettled
from verifier.transition.recovery import recovery, run_of


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance; each has a system of its own."""
    item = study.circuit.properties[index]
    asked: list[tuple[int, Asked]] = []
    answers: list[Settled] = []
    for number in range(len(item.instances)):
        posed = recovery(study.compiled, index, number)
        question = Asked(posed.system, posed.goal, functools.partial(run_of, posed))
        asked.append((number, question))
        answers += study.inquiry.settle(question.system, [question.goal], question.decode)
    told = stories(study, item, asked, answers)
    results = tuple(
        _result(item.instances[number], answer, told.get(number))
        for (number, _), answer in zip(asked, answers, strict=True)
    )
    proofs = dict.fromkeys(answer for answer in answers if isinstance(answer, Proven))
    return Answer(results, tuple(proofs))


def _result(instance: Instance, answer: Settled, story: Story | None) -> InstanceResult:
    if isinstance(answer, Proven):
        return InstanceResult(instance.label, "holds", instance.words)
    if isinstance(answer, Found):
        return InstanceResult(instance.label, "violated", instance.words, story=story)
    return unsettled(instance, answer, "It is open whether the procedure can fail.")
