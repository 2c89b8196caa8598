"""Answers to the instances of a property that are runs: judged, and told where they should be."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.model.circuit import Property
from verifier.report.result import Story
from verifier.simulation.judging import violation
from verifier.studies.inquiry import Found, Settled
from verifier.studies.study import Asked, Judge, Study
from verifier.studies.wording import outcome


def stories(
    study: Study,
    item: Property,
    asked: Sequence[tuple[int, Asked]],
    answers: Sequence[Settled],
) -> dict[int, Story]:
    """Stories by instance. `asked` has the instance and the question behind each answer.

    Runs that are not told are judged all the same. Raises EvidenceError for one that is none of the
    circuit, or that neither breaks its instance nor, for a *possible*, leads to it.
    """
    told = study.told(answers)
    found: dict[int, Story] = {}
    for number, ((index, question), answer) in enumerate(zip(asked, answers, strict=True)):
        if not isinstance(answer, Found):
            continue
        if number in told:
            found[index] = _story(study, item, index, question, answer)
        else:
            study.believe(answer, _judge(study, item, index), item.name)
    return found


def _story(study: Study, item: Property, index: int, asked: Asked, found: Found) -> Story:
    instance = item.instances[index]
    return study.story(
        asked,
        found,
        _judge(study, item, index),
        lambda run: outcome(study.circuit, item, instance, run),
        item.name,
    )


def _judge(study: Study, item: Property, index: int) -> Judge:
    instance = item.instances[index]
    return lambda run: violation(study.circuit, item, instance, run)
