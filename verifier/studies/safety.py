"""*never*, *always* and *order*: can a state be reached that breaks them? (Q2, Q3, Q5)"""

from __future__ import annotations

from verifier.report.result import InstanceResult
from verifier.studies.inquiry import Found, Proven
from verifier.studies.instances import stories
from verifier.studies.study import Answer, Study, unsettled
from verifier.studies.triggers import triggers_met


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance; those that nothing breaks must not be vacuous either."""
    item = study.circuit.properties[index]
    asked = study.asked(index, "bad")
    answers = study.settle(asked)
    told = stories(study, item, asked, answers)
    unbroken = [
        number
        for (number, _), answer in zip(asked, answers, strict=True)
        if isinstance(answer, Proven)
    ]
    met = triggers_met(study, index, unbroken)
    results = []
    for (number, _), answer in zip(asked, answers, strict=True):
        instance = item.instances[number]
        if isinstance(answer, Proven):
            results.append(met.results[number])
        elif isinstance(answer, Found):
            results.append(
                InstanceResult(instance.label, "violated", instance.words, story=told.get(number))
            )
        else:
            results.append(unsettled(instance, answer, "It is open whether this can break."))
    proofs = [answer for answer in answers if isinstance(answer, Proven)]
    return Answer(tuple(results), tuple(dict.fromkeys((*proofs, *met.proofs))))
