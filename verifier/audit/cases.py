"""That the verdict on one case has its evidence, and that what is told of it is what that shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from verifier.audit.outcome import Rejected
from verifier.evidence.claims import Claim, Target
from verifier.evidence.coverage import Need, excluded_by, shows, up_to
from verifier.evidence.parting import objection_to, pair_of
from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.run import Run
from verifier.report.manifest import Carried
from verifier.report.result import InstanceResult, PropertyResult, Story
from verifier.simulation.rest import rests_after_all
from verifier.studies.covering import RACES
from verifier.studies.names import element_name
from verifier.studies.parting import accepted_because, tell_parting
from verifier.studies.story import tell
from verifier.studies.wording import (
    AT_REST,
    NEVER_OVER,
    fight_outcome,
    happening_outcome,
    never_happens,
    nothing_leads,
    outcome,
    over_outcome,
    restless_outcome,
)


class Replayed(Struct, frozen=True):
    """A run that the simulator agreed to; `loop_from` as in `Recorded`."""

    run: Run
    loop_from: int | None


class Asked(Struct, frozen=True):
    """A case of a property of the result; `property` and `instance` are None if it is a free one.

    suffices: ways in which its verdict may be carried, one is enough.
    """

    where: str
    item: PropertyResult
    case: InstanceResult
    property: Property | None
    instance: Instance | None
    suffices: Sequence[Need]


class Cases:
    """Judges cases by claims and runs that stand. Raises Rejected."""

    def __init__(
        self, circuit: Circuit, claims: Mapping[str, Claim], sequences: Mapping[str, Replayed]
    ) -> None:
        self._circuit = circuit
        self._claims = claims
        self._sequences = sequences

    def judge(self, asked: Asked, evidence: Carried) -> None:
        """The evidence named for it is enough, and what is told of it is what that shows."""
        where, item, case = asked.where, asked.item, asked.case
        claims = [self._claims.get(number) for number in evidence.proofs]
        shown = [self._sequences.get(one.sequence) for one in evidence.sequences]
        runs = [
            Replayed(up_to(one.run, at.steps), one.loop_from)
            for one, at in zip(shown, evidence.sequences, strict=True)
            if one is not None and 0 <= at.steps <= len(one.run.steps)
        ]
        if None in claims or len(runs) < len(shown):
            raise Rejected(where, "its verdict rests on what is not there")
        ways = [k for k, need in enumerate(asked.suffices) if self._met(need, claims, runs)]
        if item.name == RACES and item.free and case.verdict == "delay dependent":
            enough = self._parts(case, [one.run for one in runs])
        else:
            enough = bool(ways) and case.race is None and not case.accepted
        if not enough:
            raise Rejected(where, f"nothing carries the verdict {case.verdict!r}")
        if case.verdict != "inconclusive":
            reasons = [_reason(asked, way) for way in ways] or [""]
            if case.reason not in reasons or case.depth is not None:
                raise Rejected(where, "its reason is not what the evidence shows")
        named = {(one.name, one.reason) for one in item.assumptions}
        for one in self._circuit.assumptions:
            helps = any(one.name in getattr(claim, "assumptions", ()) for claim in claims)
            if helps and (one.name, one.reason) not in named:
                raise Rejected(where, f"the proof assumes {one.name!r}, which is not said")
        targets = [target for way in ways for target in asked.suffices[way].shown]
        if case.story and not any(
            self._tells(asked, target, one) for target in targets for one in runs
        ):
            raise Rejected(where, "its story is not that of a sequence that carries its verdict")

        for number, story in enumerate(case.witnesses):
            target = targets[number] if number < len(targets) else None
            if case.verdict != "holds" or not any(
                self._witnesses(asked, story, target, one.run) for one in runs
            ):
                raise Rejected(where, "a witness is not a sequence named for it")

    def _met(self, need: Need, claims: Sequence[Claim | None], runs: Sequence[Replayed]) -> bool:
        """Whether the claims, which stand, exclude all that they must, and the runs show it."""
        excluded = {t for one in claims if one for t in excluded_by(self._circuit, one)}
        return set(need.excluded) <= excluded and all(
            any(shows(self._circuit, target, one.run, one.loop_from) for one in runs)
            for target in need.shown
        )

    def _tells(self, asked: Asked, target: Target, one: Replayed) -> bool:
        """Whether the run shows the target and the story tells all of it."""
        story, circuit, run = asked.case.story, self._circuit, one.run
        if story is None or not shows(circuit, target, run, one.loop_from):
            return False
        if target.role == "contest":
            words = fight_outcome(circuit, run)
        elif target.role == "rest":
            words = restless_outcome(circuit, run, one.loop_from or 0)
        elif target.role in ("bad", "witness") and asked.property and asked.instance:
            words = outcome(circuit, asked.property, asked.instance, run)
        else:
            return False
        told = tell(circuit, run, words, shortest=story.shortest, loop_from=one.loop_from)
        return told == story

    def _witnesses(self, asked: Asked, story: Story, target: Target | None, run: Run) -> bool:
        """Whether the run shows that of which the property speaks and the story tells all of it."""
        circuit, item, instance = self._circuit, asked.item, asked.instance
        if target is None:
            if not item.free or item.form != "comes to rest" or not rests_after_all(circuit, run):
                return False
            words = AT_REST
        elif instance is None or not shows(circuit, target, run):
            return False
        elif target.role == "over":
            words = over_outcome(circuit, instance, run)
        elif target.role == "trigger":
            trigger, spoken = instance.triggers[target.index], instance.trigger_words[target.index]
            words = happening_outcome(circuit, trigger, spoken, run)
        else:
            return False
        return tell(circuit, run, words, shortest=story.shortest) == story

    def _parts(self, case: InstanceResult, runs: Sequence[Run]) -> bool:
        """Do two runs part an element of that name, are they those that are told, if any, and is
        that accepted as it is said to be?"""
        if len(runs) != 2:
            return False
        pair, circuit, told = pair_of(runs[0], runs[1]), self._circuit, case.race
        if told is not None and told != tell_parting(circuit, pair, shortest=told.shortest):
            return False
        named = [e for e in range(len(circuit.elements)) if element_name(circuit, e) == case.label]
        return any(
            not objection_to(circuit, pair, element)
            and case.accepted == accepted_because(circuit, pair, element)
            for element in named
        )


def _reason(asked: Asked, way: int) -> str:
    """What is said of a verdict that is carried that way and is not inconclusive."""
    item, instance, verdict = asked.property, asked.instance, asked.case.verdict
    if item is None or instance is None:
        return ""
    if verdict == "vacuous":
        over = item.form == "recovers"
        return NEVER_OVER if over else never_happens(item, instance.trigger_words[way])
    proved = item.form == "possible" and verdict == "violated"
    return nothing_leads(instance) if proved else ""
