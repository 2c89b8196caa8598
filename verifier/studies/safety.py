"""*never*, *always* and *order*: can a state be reached that breaks them? (Q2, Q3, Q5)"""

from __future__ import annotations

import functools

from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Property
from verifier.report.result import InstanceResult
from verifier.simulation.judging import violation
from verifier.studies.inquiry import Found, Open, Proven
from verifier.studies.study import Answer, Study, unsettled
from verifier.studies.triggers import not_vacuous
from verifier.studies.wording import outcome
from verifier.transition.decode import run_of
from verifier.transition.system import Goal


def decide(study: Study, index: int) -> Answer:
    """The verdict on every instance.

    All that are open are asked about together: if nothing breaks any of them, one proof does for
    all; if a run breaks some, they are done and the others are asked about again.
    """
    item = study.circuit.properties[index]
    goals = {
        question.instance: question.goal
        for question in study.compiled.questions
        if question.property == index and question.role == "bad"
    }
    results: dict[int, InstanceResult] = {}
    proofs: list[Proven] = []
    groups = [list(goals)]
    while groups:
        group = groups.pop(0)
        settled = _ask(study, item, [goals[instance] for instance in group])
        if isinstance(settled, Proven):
            proofs.append(settled)
            for instance in group:
                results[instance] = not_vacuous(study, index, instance, proofs)
        elif isinstance(settled, Found):
            broken = _broken(study, item, group, settled)
            for instance in broken:
                results[instance] = _violated(study, item, instance, settled)
            groups[:0] = [left] if (left := [i for i in group if i not in broken]) else []
        elif len(group) == 1:
            only = item.instances[group[0]]
            results[group[0]] = unsettled(only, settled, "It is open whether this can break.")
        else:
            groups[:0] = [[instance] for instance in group]
    return Answer(tuple(results[instance] for instance in sorted(results)), tuple(proofs))


def _ask(study: Study, item: Property, goals: list[Goal]) -> Proven | Found | Open:
    system = study.compiled.system
    goal = goals[0]
    if len(goals) > 1:
        bad = system.graph.any(goal.bad for goal in goals)
        goal = Goal(f"bad:{item.name} ({len(goals)} cases)", bad)
    return study.inquiry.settle(system, goal, functools.partial(run_of, study.compiled))


def _broken(study: Study, item: Property, group: list[int], found: Found) -> list[int]:
    """The instances of the group that the run breaks, by the simulator's judgement."""
    broken = [
        instance
        for instance in group
        if violation(study.circuit, item, item.instances[instance], found.run)
    ]
    if not broken:
        raise EvidenceError(f"{item.name}: the end of the run does not show what it should")
    return broken


def _violated(study: Study, item: Property, index: int, found: Found) -> InstanceResult:
    instance = item.instances[index]
    story = study.story(
        found,
        lambda run: violation(study.circuit, item, instance, run),
        lambda run: outcome(study.circuit, item, instance, run),
        item.name,
    )
    return InstanceResult(instance.label, "violated", instance.words, story=story)

