"""Vacuity: what an instance speaks of must be able to happen (Q8)."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.model.circuit import Property
from verifier.model.condition import Condition
from verifier.model.run import Run
from verifier.report.result import InstanceResult
from verifier.simulation.judging import triggered
from verifier.simulation.movement import holds_every
from verifier.studies.inquiry import Found, Open, Proven
from verifier.studies.study import Study, unsettled
from verifier.studies.wording import never_happens
from verifier.transition.compiled import Question


class Met(Struct, frozen=True):
    """results: by instance; it holds unless a trigger is missing. proofs: of missing ones."""

    results: dict[int, InstanceResult]
    proofs: tuple[Proven, ...]


def triggers_met(study: Study, index: int, instances: Sequence[int]) -> Met:
    """What instances that nothing breaks answer: that they hold, if their triggers can happen."""
    item = study.circuit.properties[index]
    wanted = set(instances)
    seen: dict[int, bool] = {}  # of triggers, which are the same objects in many instances
    asked: list[Question] = []
    for question in study.compiled.asked_by(index, "trigger"):
        if question.instance in wanted:
            trigger = item.instances[question.instance].triggers[question.index]
            if id(trigger) not in seen:
                seen[id(trigger)] = _seen(study, item, trigger)
            if not seen[id(trigger)]:
                asked.append(question)
    settled = study.inquiry.settle(
        study.compiled.system,
        [question.goal for question in asked],
        study.decode,
    )
    results = {
        number: InstanceResult(item.instances[number].label, "holds", item.instances[number].words)
        for number in instances
    }
    believed: set[tuple[int, int]] = set()
    for question, answer in zip(asked, settled, strict=True):
        trigger = item.instances[question.instance].triggers[question.index]
        if isinstance(answer, Found):
            if (id(trigger), id(answer)) not in believed:
                _believe(study, item, trigger, answer)
                believed.add((id(trigger), id(answer)))
            continue
        missing = _missing(item, question, answer)
        if results[question.instance].verdict != "vacuous":
            results[question.instance] = missing
    proofs = tuple(dict.fromkeys(one for one in settled if isinstance(one, Proven)))
    return Met(results, proofs)


def _seen(study: Study, item: Property, trigger: Condition) -> bool:
    """Whether a state that a replayed run went through meets the trigger."""
    return any(
        holds_every(study.circuit, state, trigger)
        for state, resting in study.visited.items()
        if resting or item.moment == "every_moment"
    )


def _believe(study: Study, item: Property, trigger: Condition, found: Found) -> None:
    """Raises EvidenceError unless the simulator agrees that the run meets the trigger."""

    def meets(run: Run) -> bool:
        return triggered(study.circuit, item, trigger, run.states[-1])

    study.believe(found, meets, item.name)


def _missing(item: Property, question: Question, answer: Proven | Open) -> InstanceResult:
    instance = item.instances[question.instance]
    words = instance.trigger_words[question.index]
    if isinstance(answer, Open):
        return unsettled(instance, answer, f"It is open whether this can ever happen: {words}.")
    reason = never_happens(item, words)
    return InstanceResult(instance.label, "vacuous", instance.words, reason=reason)
