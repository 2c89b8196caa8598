"""Runs in which that happens of which a property that holds speaks (Q14)."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from verifier.evidence.error import EvidenceError
from verifier.evidence.replay import believe_run
from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.condition import Condition
from verifier.model.run import Run
from verifier.report.result import DesignResult, InstanceResult, PropertyResult, Story
from verifier.simulation.events import changes_of
from verifier.simulation.judging import procedure_over, triggered
from verifier.simulation.movement import holds_every
from verifier.simulation.rest import rests_after_all
from verifier.studies import rest
from verifier.studies.idle import without_idle_events
from verifier.studies.story import tell
from verifier.studies.study import Judge, Study, Words
from verifier.studies.wording import (
    AT_REST,
    NO_MOVEMENT,
    NO_TRIGGER,
    WITHOUT,
    happening_outcome,
    over_outcome,
)

# A longer run is told as it is: to try without each of its events would take too long.
MOST_TRIED = 80


def with_witnesses(study: Study, design: DesignResult) -> DesignResult:
    """The result with witnesses for what holds: of the first case, or of every one if asked for.

    Raises EvidenceError when there is none: then the property should not have held.
    """
    witnesses = _Witnesses(study)
    stated = {
        item.name: (judge, item)
        for judge in (witnesses, *(_Witnesses(one) for one in study.tolerant.values()))
        for item in judge.circuit.properties
    }
    properties: list[PropertyResult] = []
    for item in design.properties:
        if item.verdict == "holds" and item.name == rest.NAME and item.free:
            properties.append(witnesses.of_rest(item))
        elif item.verdict == "holds" and item.free:
            properties.append(structs.replace(item, no_witness=WITHOUT[item.name]))
        elif item.verdict == "holds" and item.form != "possible":
            judge, asked = stated[item.name]
            properties.append(judge.of(asked, item))
        else:
            properties.append(item)
    return structs.replace(design, properties=tuple(properties))


class _Witnesses:
    """Taken from the runs that the study has replayed."""

    def __init__(self, study: Study) -> None:
        self._study = study
        self._circuit: Circuit = study.circuit

    @property
    def circuit(self) -> Circuit:
        return self._circuit

    def of(self, item: Property, answer: PropertyResult) -> PropertyResult:
        instances: list[InstanceResult] = []
        for number, told in enumerate(answer.instances):
            if not number or self._study.every_case:
                stories = tuple(self._stories(item, item.instances[number]))
                told = structs.replace(told, witnesses=stories)
            instances.append(told)
        has_some = any(one.witnesses for one in instances)
        return structs.replace(
            answer, instances=tuple(instances), no_witness="" if has_some else NO_TRIGGER
        )

    def of_rest(self, answer: PropertyResult) -> PropertyResult:
        """A run that ends at rest after something had to move; a circuit in which nothing ever has
        to move has none."""
        circuit, visited = self._circuit, self._study.visited

        def comes_to_rest(run: Run) -> bool:
            return rests_after_all(circuit, run)

        def first(run: Run) -> int | None:
            moving = next((k for k, state in enumerate(run.states) if not visited[state]), None)
            if moving is None:
                return None
            still = (k for k, state in enumerate(run.states) if k > moving and visited[state])
            return next(still, None)

        starts = [(k, run) for run in self._study.runs if (k := first(run)) is not None]
        if not starts:
            return structs.replace(answer, no_witness=NO_MOVEMENT)
        steps, run = min(starts, key=lambda start: start[0])
        story = self._told(_up_to(run, steps), comes_to_rest, lambda _: AT_REST, answer.name)
        (whole,) = answer.instances
        return structs.replace(answer, instances=(structs.replace(whole, witnesses=(story,)),))

    def _stories(self, item: Property, instance: Instance) -> Iterator[Story]:
        if item.form == "recovers":
            yield self._carried_out(item, instance)
        for trigger, words in zip(instance.triggers, instance.trigger_words, strict=True):
            yield self._happening(item, trigger, words)

    def _carried_out(self, item: Property, instance: Instance) -> Story:
        circuit = self._circuit

        def over(run: Run) -> bool:
            return procedure_over(circuit, instance, run)

        def words(run: Run) -> str:
            return over_outcome(circuit, instance, run)

        whole = [run for run in self._study.runs if run.procedure_from is not None and over(run)]
        if not whole:
            raise EvidenceError(f"{item.name}: no run carries the procedure out")
        return self._told(min(whole, key=lambda run: len(run.steps)), over, words, item.name)

    def _happening(self, item: Property, trigger: Condition, spoken: str) -> Story:
        circuit = self._circuit

        def meets(run: Run) -> bool:
            return triggered(circuit, item, trigger, run.states[-1])

        def words(run: Run) -> str:
            return happening_outcome(circuit, trigger, spoken, run)

        shortest = self._shortest(item, trigger)
        if shortest is None:
            raise EvidenceError(f"{item.name}: no run shows that this happens: {spoken}")
        return self._told(shortest, meets, words, item.name)

    def _shortest(self, item: Property, trigger: Condition) -> Run | None:
        """The beginning of a replayed run, with as few steps as any, that ends in a state which
        meets the trigger."""
        visited = self._study.visited
        found: Run | None = None
        for run in self._study.runs:
            for steps, state in enumerate(run.states):
                if found is not None and steps >= len(found.steps):
                    break
                counts = visited[state] or item.moment == "every_moment"
                if counts and holds_every(self._circuit, state, trigger):
                    found = _up_to(run, steps)
        return found

    def _told(self, run: Run, judge: Judge, words: Words, what: str) -> Story:
        simple = run
        if len(changes_of(self._circuit, run)) <= MOST_TRIED:
            simple = without_idle_events(self._circuit, run, judge)
        believe_run(self._circuit, simple, judge, what)
        self._study.witnessed.append(simple)
        return tell(self._circuit, simple, words(simple), shortest=False)


def _up_to(run: Run, steps: int) -> Run:
    return Run(run.start, run.steps[:steps])
