"""What each proof rests on: parts, tubes and assumptions without which it would not stand (Q13)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from msgspec import structs

from verifier.engines.core import Claimed, Core, Item, core_of
from verifier.engines.needed import asked_of, needed
from verifier.evidence.claims import Target, Unreachable, resolved
from verifier.evidence.core import CoreClaim, certify_core, check_spoilt
from verifier.evidence.coverage import FIGHT
from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.report import result
from verifier.report.result import DesignResult, PropertyResult
from verifier.studies.claims import claims_of
from verifier.studies.study import Study
from verifier.transition.loose import loosened
from verifier.transition.loosening import Duty, Kind, duties, words

WITH_CORE = ("never", "always", "order", "recovers", "no contest")

WHY_NOT = {
    "comes to rest": "its core is not taken: what is let go need never come to rest",
    "no race": "its core is not taken: what is let go may end anywhere",
}
WITH_FAULTS = "its core is not taken: which faults it stands is what its verdict tells"


def with_cores(study: Study, design: DesignResult) -> DesignResult:
    """The result with what its proofs rest on, and what none of them rests on.

    Raises EvidenceError when a core does not stand.
    """
    cores = _Cores(study)
    number = {item.name: p for p, item in enumerate(study.circuit.properties)}
    properties: list[PropertyResult] = []
    for item in design.properties:
        if item.verdict != "holds" or item.form == "possible":
            properties.append(item)
        elif item.tolerating is not None:
            properties.append(structs.replace(item, no_core=WITH_FAULTS))
        elif item.form in WITH_CORE:
            core = cores.of(-1 if item.free else number[item.name], item.name)
            properties.append(structs.replace(item, core=core))
        else:
            properties.append(structs.replace(item, no_core=WHY_NOT[item.form]))
    return structs.replace(design, properties=tuple(properties), unneeded=cores.unneeded())


class _Cores:
    def __init__(self, study: Study) -> None:
        self._circuit = study.circuit
        self._budget = study.inquiry.budget
        self._loose = loosened(study.compiled)
        self._claims = [one for one in claims_of(study) if isinstance(one, Unreachable)]
        self._groups = _groups(study.circuit)
        self._needed: set[Duty] = set()

    def of(self, property: int, name: str) -> result.Core:
        """The core of a property that holds; -1 is *no contest*."""
        claims = [claim for claim in self._claims if any(_about(property, claim))]
        proved = {one.instance for claim in claims for one in claim.targets if _is(property, one)}
        if proved != self._instances(property):
            raise EvidenceError(f"{name}: not all of it was proved")
        posed = [self._posed(claim, _about(property, claim)) for claim in claims]
        core = core_of(posed, self._groups, self._budget.conflicts) if posed else None
        if core is None:
            raise EvidenceError(f"{name}: the proof does not stand with everything kept")
        kept = [item for item in core.items if isinstance(item, Duty)]
        assumed = [item for item in core.items if isinstance(item, str)]
        checks = [
            CoreClaim(
                system=claimed.system,
                keeps=claimed.keeps,
                free=self._loose.free,
                goals=(*claimed.goals, *helpers),
                lemmas=lemmas,
                duties=kept,
                assumptions=assumed,
            )
            for claimed, lemmas, helpers in zip(posed, core.lemmas, core.helpers, strict=True)
        ]
        obligations = sum(map(certify_core, checks))
        self._needed.update(kept)
        unsure, steps = self._unsure(posed, core, checks)
        told = _told(self._circuit, core, obligations)
        if unsure:
            return structs.replace(told, least=False, unsure=unsure, steps=steps)
        return told

    def _unsure(
        self, posed: Sequence[Claimed], core: Core, checks: Sequence[CoreClaim]
    ) -> tuple[tuple[str, ...], int]:
        """Items of the core of which no run of up to so many steps shows that they are needed."""
        runs, steps = needed(posed, core.items, self._budget.conflicts, self._budget.depth)
        for item, run in runs.items():
            check_spoilt(checks[run.claim], item, posed[run.claim].goals, run.moments)
        unsure = (item for item in asked_of(core.items) if item not in runs)
        told = (one if isinstance(one, str) else words(self._circuit, one) for one in unsure)
        return tuple(told), steps

    def unneeded(self) -> result.Unneeded:
        """What no core has, and what cores only ask to be tight."""
        working, tight = _split(self._needed)
        busy = {*working, *(duty.working for duty in tight)}
        idle = [d for d in duties(self._circuit) if d.what == "works" and d not in busy]
        return result.Unneeded(
            parts=_names(self._circuit, "part", idle),
            tubes=_names(self._circuit, "tube", idle),
            tight_parts=_names(self._circuit, "part", tight),
            tight_tubes=_names(self._circuit, "tube", tight),
        )

    def _instances(self, property: int) -> set[int]:
        if property < 0:
            return {FIGHT.instance}
        return set(range(len(self._circuit.properties[property].instances)))

    def _posed(self, claim: Unreachable, about: Sequence[bool]) -> Claimed:
        system, goals = resolved(self._loose.compiled, claim)
        return Claimed(
            system=system,
            keeps=self._loose.keeps,
            goals=tuple(goal for goal, ours in zip(goals, about, strict=True) if ours),
            lemmas=claim.lemmas,
            helpers=tuple(goal for goal, ours in zip(goals, about, strict=True) if not ours),
        )


def _about(property: int, claim: Unreachable) -> list[bool]:
    """Which of the claim's targets break the property."""
    return [_is(property, one) for one in claim.targets]


def _is(property: int, target: Target) -> bool:
    if property < 0:
        return target == FIGHT
    return (target.role, target.property) == ("bad", property)


def _told(circuit: Circuit, core: Core, obligations: int) -> result.Core:
    working, tight = _split(item for item in core.items if isinstance(item, Duty))
    return result.Core(
        parts=_names(circuit, "part", working),
        tubes=_names(circuit, "tube", working),
        tight_parts=_names(circuit, "part", tight),
        tight_tubes=_names(circuit, "tube", tight),
        assumptions=tuple(one.name for one in circuit.assumptions if one.name in core.items),
        among=len(circuit.parts) + len(circuit.tubes),
        obligations=obligations,
        least=True,
    )


def _split(needed: Iterable[Duty]) -> tuple[list[Duty], list[Duty]]:
    """What has to work; and of the rest, what has to be tight. In the order of the circuit."""
    known = sorted(needed)
    working = [duty for duty in known if duty.what == "works"]
    return working, [duty for duty in known if duty.working not in working]


def _names(circuit: Circuit, kind: Kind, needed: Iterable[Duty]) -> tuple[str, ...]:
    things = circuit.parts if kind == "part" else circuit.tubes
    return tuple(things[duty.index].name for duty in needed if duty.kind == kind)


def _groups(circuit: Circuit) -> list[list[Item]]:
    """Assumptions first, so that few of them are kept; then tubes before parts, family by family,
    since a proof that needs one of a family mostly needs all."""
    families: dict[tuple[bool, Kind, str], list[Item]] = {}
    for duty in duties(circuit):
        (name,) = _names(circuit, duty.kind, [duty])
        key = (duty.what == "works", duty.kind, re.sub(r"\[[^]]*\]", "", name))
        families.setdefault(key, []).append(duty)
    order = sorted(families, key=lambda key: key[:2], reverse=True)
    assumed: list[list[Item]] = [[one.name] for one in circuit.assumptions]
    return assumed + [families[key] for key in order]
