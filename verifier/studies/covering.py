"""For every verdict of a design the evidence that carries it, out of all that a study gathered."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from verifier.evidence.claims import Claim, Rests, Target
from verifier.evidence.coverage import (
    FIGHT,
    WITHOUT_REST,
    Need,
    but_for,
    excluded_by,
    needs,
    needs_of_free,
    needs_of_races,
    no_others,
    shows,
    up_to,
)
from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.run import Parting, Run
from verifier.report.manifest import Carried, Carrying, Shown
from verifier.report.result import DesignResult, InstanceResult, PropertyResult, Story
from verifier.studies.names import element_name
from verifier.studies.parting import accepted_because, beyond, tell_parting
from verifier.studies.story import tell

FREE: dict[str, Target] = {"no contest": FIGHT, "comes to rest": WITHOUT_REST}


RACES = "no race"

WHOLE = "the design as a whole"
"""What a free property that is inconclusive speaks of."""


class Sequence(Struct, frozen=True):
    """A replayed run; of one without rest, the number of the state that it comes back to."""

    run: Run
    loop_from: int | None = None


class Covering:
    """What is used of the claims and sequences, in the order of first use; numbers count from 1."""

    def __init__(
        self,
        circuit: Circuit,
        claims: tuple[Claim, ...],
        sequences: tuple[Sequence, ...],
        partings: tuple[tuple[Parting, int], ...] = (),
    ) -> None:
        self._partings = partings
        self._circuit = circuit
        self._claims = claims
        self._excluded = [frozenset(excluded_by(circuit, claim)) for claim in claims]
        self._sequences = tuple(dict.fromkeys(sequences))
        self._last = 0
        self._seen: dict[Target, Shown] = {}
        self.claims: dict[Claim, str] = {}
        self.sequences: dict[Sequence, str] = {}

    def always(self, claim: Claim) -> None:
        """A claim that every verdict rests on."""
        self._number_of(claim)

    def design(self, design: DesignResult) -> tuple[Carrying, ...]:
        """Raises EvidenceError for a verdict that nothing carries."""
        numbers = {item.name: p for p, item in enumerate(self._circuit.properties)}
        return tuple(
            Carrying(
                item.name,
                item.verdict,
                tuple(
                    self._apart(item, case, number)
                    if case.verdict == "delay dependent"
                    else self._carried(item, case, needed)
                    for number, (case, needed) in enumerate(_cases(self._circuit, item, numbers))
                ),
            )
            for item in design.properties
        )

    def _carried(
        self, item: PropertyResult, case: InstanceResult, needed: tuple[Need, ...]
    ) -> Carried:
        for need in needed:
            if all(self._claim_on(target) is not None for target in need.excluded):
                told: list[Story | None] = [case.story] * len(need.shown)
                told[: len(case.witnesses)] = case.witnesses[: len(need.shown)]
                shown = [self._shown(*pair) for pair in zip(need.shown, told, strict=True)]
                shown += [self._telling(one) for one in case.witnesses[len(need.shown) :]]
                found = [one for one in shown if one is not None]
                if len(found) == len(shown):
                    proofs = [self._proof_of(target) for target in need.excluded]
                    return Carried(
                        case.label,
                        case.verdict,
                        tuple(dict.fromkeys(proofs)),
                        tuple(dict.fromkeys(found)),
                    )
        where = f"{item.name} [{case.label}]" if case.label else item.name
        raise EvidenceError(f"{where}: nothing carries the verdict {case.verdict!r}")

    def _apart(self, item: PropertyResult, case: InstanceResult, number: int) -> Carried:
        """Two runs that part the element; with the first of them what proves all else that is said
        of the property."""
        circuit = self._circuit
        named = [e for e in range(len(circuit.elements)) if case.label == self._name(e)]
        for parting, element in self._partings:
            fits = element in named and accepted_because(circuit, parting, element) == case.accepted
            if fits and _tells(circuit, case, parting):
                runs = (parting.first, parting.second)
                shown = tuple(self._use(Sequence(run), len(run.steps)) for run in runs)
                proofs = self._beyond(item) if item.reason and not number else ()
                if item.others == "none" and not number:
                    proofs = tuple(dict.fromkeys((*proofs, *self._no_others())))
                return Carried(case.label, case.verdict, proofs, shown)
        raise EvidenceError(f"{item.name} [{case.label}]: nothing carries the verdict")

    def _name(self, element: int) -> str:
        return element_name(self._circuit, element)

    def _beyond(self, item: PropertyResult) -> tuple[str, ...]:
        rests = [claim for claim in self._claims if isinstance(claim, Rests)]
        for claim in self._claims:
            if beyond(self._circuit, but_for([claim, *rests])) == item.reason:
                return tuple(self._number_of(one) for one in (claim, *rests))
        raise EvidenceError(f"{item.name}: nothing carries what is said of everything else")

    def _no_others(self) -> tuple[str, ...]:
        """What proves that there are only races that the design accepts."""
        rests = [claim for claim in self._claims if isinstance(claim, Rests)]
        for claim in self._claims:
            for some in ([claim], [claim, *rests]):
                if no_others(self._circuit, some):
                    return tuple(self._number_of(one) for one in some)
        raise EvidenceError(f"{RACES}: nothing carries that only accepted ones are there")

    def _claim_on(self, target: Target) -> Claim | None:
        pairs = zip(self._claims, self._excluded, strict=True)
        return next((claim for claim, excluded in pairs if target in excluded), None)

    def _proof_of(self, target: Target) -> str:
        claim = self._claim_on(target)
        if claim is None:
            raise ValueError(f"no claim excludes {target}")
        return self._number_of(claim)

    def _number_of(self, claim: Claim) -> str:
        return self.claims.setdefault(claim, f"{len(self.claims) + 1:03}")

    def _shown(self, target: Target, story: Story | None) -> Shown | None:
        """Where a sequence shows it: the one that the story tells, else any whole one, else, for
        what a single state shows, the first state of any."""
        tells = None if story is None else story
        for index in self._by_turns():
            one = self._sequences[index]
            if self._fits(one, target, tells):
                self._last = index
                return self._use(one, len(one.run.steps))
        if story is not None or target.role != "trigger":
            return None
        for one in self._sequences:
            for steps in range(len(one.run.steps) + 1):
                if shows(self._circuit, target, up_to(one.run, steps)):
                    return self._use(one, steps)
        return None

    def _telling(self, story: Story) -> Shown | None:
        """A sequence that the story tells."""
        for index in self._by_turns():
            one = self._sequences[index]
            if told_by(self._circuit, story, one.run):
                return self._use(one, len(one.run.steps))
        return None

    def _by_turns(self) -> Iterator[int]:
        """All numbers of sequences, from where the last search ended: they were found in order."""
        count = len(self._sequences)
        return ((self._last + k) % count for k in range(count))

    def _fits(self, one: Sequence, target: Target, story: Story | None) -> bool:
        if story is not None and not told_by(self._circuit, story, one.run):
            return False
        return shows(self._circuit, target, one.run, one.loop_from)

    def _use(self, one: Sequence, steps: int) -> Shown:
        number = self.sequences.setdefault(one, f"{len(self.sequences) + 1:03}")
        return Shown(number, steps)


def told_by(circuit: Circuit, story: Story, run: Run) -> bool:
    """Whether the story tells this run; its last sentence is not looked at."""
    if len(run.steps) != story.steps or run.procedure_from != story.procedure_from:
        return False
    told = tell(circuit, run, story.outcome, shortest=story.shortest, loop_from=story.loop_from)
    return told == story


def _tells(circuit: Circuit, case: InstanceResult, parting: Parting) -> bool:
    """Whether these are the two runs that are told of the case, if any are."""
    told = case.race
    return told is None or told == tell_parting(circuit, parting, shortest=told.shortest)


def _cases(
    circuit: Circuit, item: PropertyResult, numbers: dict[str, int]
) -> Iterator[tuple[InstanceResult, tuple[Need, ...]]]:
    if item.name == RACES:
        for case in item.instances:
            yield case, needs_of_races(case.verdict)
    elif item.free:
        for case in item.instances:
            yield case, needs_of_free(FREE[item.name], case.verdict)
    else:
        for i, case in enumerate(item.instances):
            yield case, needs(circuit, numbers[item.name], i, case.verdict)
