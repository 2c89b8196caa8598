"""Vacuity: what an instance speaks of must be able to happen (Q8)."""

from __future__ import annotations

import functools
from collections.abc import Sequence

from msgspec import Struct

from verifier.model.circuit import Property
from verifier.model.run import Run
from verifier.report.result import InstanceResult
from verifier.simulation.judging import triggered
from verifier.simulation.movement import holds_every
from verifier.studies.inquiry import Found, Open, Proven, Settled
from verifier.studies.study import Study, unsettled
from verifier.studies.wording import never_happens
from verifier.transition.compiled import Question
from verifier.transition.decode import run_of


class Met(Struct, frozen=True):
    """results: by instance; it holds unless a trigger is missing. proofs: of missing ones."""

    results: dict[int, InstanceResult]
    proofs: tuple[Proven, ...]


def triggers_met(study: Study, index: int, instances: Sequence[int]) -> Met:
    """What instances that nothing breaks answer: that they hold, if their triggers can happen."""
    item = study.circuit.properties[index]
    asked = [
        question
        for question in study.compiled.asked_by(index, "trigger")
        if question.instance in instances and not _seen(study, item, question)
    ]
    settled = study.inquiry.settle(
        study.compiled.system,
        [question.goal for question in asked],
        functools.partial(run_of, study.compiled),
    )
    results = {
        number: InstanceResult(item.instances[number].label, "holds", item.instances[number].words)
        for number in instances
    }
    for question, answer in zip(asked, settled, strict=True):
        missing = _missing(study, item, question, answer)
        if missing is not None and results[question.instance].verdict != "vacuous":
            results[question.instance] = missing
    proofs = tuple(dict.fromkeys(one for one in settled if isinstance(one, Proven)))
    return Met(results, proofs)


def _seen(study: Study, item: Property, question: Question) -> bool:
    """Whether a state that a replayed run went through meets the trigger."""
    trigger = item.instances[question.instance].triggers[question.index]
    return any(
        holds_every(study.circuit, state, trigger)
        for state, resting in study.visited.items()
        if resting or item.moment == "every_moment"
    )


def _missing(
    study: Study, item: Property, question: Question, answer: Settled
) -> InstanceResult | None:
    """None when the trigger is reached by a run that the simulator has replayed."""
    instance = item.instances[question.instance]
    trigger, words = instance.triggers[question.index], instance.trigger_words[question.index]

    def meets(run: Run) -> bool:
        return triggered(study.circuit, item, trigger, run.states[-1])

    if isinstance(answer, Found):
        study.believe(answer, meets, item.name)
        return None
    if isinstance(answer, Open):
        return unsettled(instance, answer, f"It is open whether this can ever happen: {words}.")
    reason = never_happens(item, words)
    return InstanceResult(instance.label, "vacuous", instance.words, reason=reason)
