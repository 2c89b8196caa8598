"""*recovers*: from every reachable state the procedure leads to the condition (Q6)."""

from __future__ import annotations

import functools

from verifier.model.circuit import Instance, Setpoint
from verifier.report.result import InstanceResult, Story
from verifier.simulation.judging import procedure_over
from verifier.studies.inquiry import Found, Open, Proven, Settled
from verifier.studies.instances import stories
from verifier.studies.study import Answer, Asked, Study, unsettled
from verifier.studies.wording import NEVER_OVER
from verifier.transition.recovery import Recovery, recovery, run_of


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance; each has a system of its own."""
    item = study.circuit.properties[index]
    asked: list[tuple[int, Asked]] = []
    answers: list[Settled] = []
    unfinished: dict[tuple[Setpoint, ...], Proven | Open | None] = {}
    for number, instance in enumerate(item.instances):
        posed = recovery(study.compiled, index, number)
        study.comparison.recovery(posed, index, number)
        question = Asked(posed.system, posed.goal, functools.partial(run_of, posed))
        asked.append((number, question))
        (answer,) = study.inquiry.settle(question.system, [question.goal], question.decode)
        answers.append(answer)
        if isinstance(answer, Proven) and instance.procedure not in unfinished:
            unfinished[instance.procedure] = _unfinished(study, item.name, instance, posed)
    told = stories(study, item, asked, answers)
    results = tuple(
        _result(instance, answer, told.get(number), unfinished.get(instance.procedure))
        for number, (instance, answer) in enumerate(zip(item.instances, answers, strict=True))
    )
    proofs = (one for one in (*answers, *unfinished.values()) if isinstance(one, Proven))
    return Answer(results, tuple(dict.fromkeys(proofs)))


def _unfinished(
    study: Study, name: str, instance: Instance, posed: Recovery
) -> Proven | Open | None:
    """None when the procedure can be carried out to its end; else why that is not known (Q8)."""
    decode = functools.partial(run_of, posed)
    (over,) = study.inquiry.settle(posed.system, [posed.over], decode)
    if not isinstance(over, Found):
        return over
    study.believe(over, lambda run: procedure_over(study.circuit, instance, run), name)
    return None


def _result(
    instance: Instance, answer: Settled, story: Story | None, unfinished: Proven | Open | None
) -> InstanceResult:
    if isinstance(answer, Found):
        return InstanceResult(instance.label, "violated", instance.words, story=story)
    if isinstance(answer, Open):
        return unsettled(instance, answer, "It is open whether the procedure can fail.")
    if isinstance(unfinished, Proven):
        return InstanceResult(instance.label, "vacuous", instance.words, reason=NEVER_OVER)
    if isinstance(unfinished, Open):
        words = "It is open whether the procedure can be carried out."
        return unsettled(instance, unfinished, words)
    return InstanceResult(instance.label, "holds", instance.words)
