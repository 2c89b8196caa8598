"""The check of a certificate against the design, without any of the search that made it.

Obligations are written down from the circuit and the claims, and put to a solver that found none of
them; sequences are replayed by the simulator; every verdict on every case must have its evidence
among them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from verifier.audit.cases import Asked, Cases, Replayed
from verifier.audit.claimed import Refuted, by_cadical, check_claims
from verifier.audit.outcome import Rejected, Unchecked
from verifier.evidence.claims import Claim
from verifier.evidence.coverage import needs, needs_of_free, needs_of_races, no_others
from verifier.evidence.sequences import Unreadable, replayed
from verifier.model.circuit import Circuit
from verifier.model.normal import normal_digest
from verifier.model.tolerant import tolerances, woven
from verifier.report.bundle import folder_of
from verifier.report.certificate import Certificate, Strand
from verifier.report.manifest import Carrying
from verifier.report.result import (
    Form,
    InstanceResult,
    PropertyResult,
    UsedAssumption,
    Verdict,
    worst,
)
from verifier.shipped import LANGUAGE
from verifier.simulation.replay import ReplayError, replay
from verifier.studies.covering import FREE, RACES

_FORMS: dict[str, Form] = {
    "comes to rest": "comes to rest",
    "no contest": "no contest",
    "no race": "no race",
}


Moment = Literal["at_rest", "every_moment"]


class Checked(Struct, frozen=True):
    """What stands: the verdict on each property by its name, so many proofs and sequences."""

    verdict: Verdict
    properties: tuple[tuple[str, Verdict], ...]
    proofs: int
    sequences: int


def check_again(
    circuit: Circuit, certificate: Certificate, refuted: Refuted = by_cadical
) -> Checked:
    """Raises Rejected where the certificate does not carry what it says of this very circuit, and
    Unchecked where that cannot be found out."""
    if certificate.language != LANGUAGE:
        theirs = f"it is for version {certificate.language} of the language"
        raise Unchecked(f"{theirs}; this program knows version {LANGUAGE}")
    if certificate.circuit != normal_digest(circuit):
        raise Rejected("certificate", "it is for another circuit")
    circuits = {"": circuit}
    named = {one.folder for one in certificate.properties}
    for number, tolerance in enumerate(tolerances(circuit)):
        if folder_of(number) in named:
            circuits[folder_of(number)] = woven(circuit, tolerance)
    if [one.folder for one in certificate.strands] != list(circuits):
        raise Rejected("certificate", "it is not for the circuits that the verdicts are about")
    cases, claims = {}, {}
    proofs = sequences = 0
    for strand in certificate.strands:
        own = circuits[strand.folder]
        check_claims(own, strand, refuted)
        runs = _replayed(own, strand)
        claims[strand.folder] = strand.proofs
        cases[strand.folder] = Cases(own, strand.proofs, runs)
        proofs += len(strand.proofs)
        sequences += len(runs)
    judge = _Judge(circuit, circuits, certificate, cases, claims)
    told = tuple(judge.verdicts())
    whole = worst(verdict for _, verdict in told)
    if certificate.verdict != whole:
        raise Rejected("certificate", "its verdict is not that of its properties")
    return Checked(whole, told, proofs, sequences)


def _replayed(circuit: Circuit, strand: Strand) -> dict[str, Replayed]:
    found = {}
    for number, record in strand.sequences.items():
        try:
            run = replayed(circuit, record)
            replay(circuit, run)
        except (Unreadable, ReplayError) as problem:
            raise Rejected(f"sequence {number}", str(problem)) from None
        found[number] = Replayed(run, record.loop_from)
    return found


class _Judge:
    """Looks for the evidence of each verdict, of all that the design is asked for."""

    def __init__(
        self,
        circuit: Circuit,
        circuits: Mapping[str, Circuit],
        certificate: Certificate,
        cases: Mapping[str, Cases],
        claims: Mapping[str, Mapping[str, Claim]],
    ) -> None:
        self._circuit = circuit
        self._circuits = circuits
        self._certificate = certificate
        self._cases = cases
        self._claims = claims

    def verdicts(self) -> list[tuple[str, Verdict]]:
        circuit = self._circuit
        without = {"comes to rest"} if circuit.runs_on else set()
        free = [name for name in (*FREE, RACES) if name not in without]
        stated = [item.name for item in circuit.properties]
        told = list(self._certificate.properties)
        # By their places: a stated property may have the name of one that comes free.
        if [one.name for one in told] != [*stated, *free]:
            raise Rejected("certificate", "its properties are not those of the design")
        for number, one in enumerate(told):
            if number < len(stated):
                self._stated(number, one)
            else:
                self._free(one)
            if one.verdict != worst(case.verdict for case in one.cases):
                raise Rejected(one.name, "its verdict is not that of its cases")
        return [(one.name, one.verdict) for one in told]

    def _stated(self, number: int, told: Carrying) -> None:
        folder, circuit, own = self._where(number)
        if told.folder != folder:
            raise Rejected(told.name, "it is judged of another circuit")
        form = circuit.properties[own]
        labels = [instance.label for instance in form.instances]
        if [case.label for case in told.cases] != labels:
            raise Rejected(told.name, "its cases are not those of the design")
        item = self._item(told, form.form, form.moment)
        for i, (case, instance) in enumerate(zip(told.cases, form.instances, strict=True)):
            where = f"{told.name}, case {case.label!r}"
            result = InstanceResult(case.label, case.verdict, instance.words)
            suffices = needs(circuit, own, i, case.verdict)
            asked = Asked(where, item, result, form, instance, suffices)
            self._cases[folder].judge(asked, case)

    def _where(self, number: int) -> tuple[str, Circuit, int]:
        if self._circuit.properties[number].tolerating is None:
            return "", self._circuit, number
        for place, tolerance in enumerate(tolerances(self._circuit)):
            if number in tolerance.properties and folder_of(place) in self._circuits:
                folder = folder_of(place)
                return folder, self._circuits[folder], tolerance.properties.index(number)
        raise Rejected("certificate", "a circuit with faults is not there")

    def _free(self, told: Carrying) -> None:
        circuit, accepted = self._circuit, self._certificate.accepted
        item = self._item(told, _FORMS[told.name])
        for case in told.cases:
            result = InstanceResult(
                case.label, case.verdict, "", accepted=accepted.get(case.label, "")
            )
            suffices = (
                needs_of_races(case.verdict)
                if told.name == RACES
                else needs_of_free(FREE[told.name], case.verdict)
            )
            asked = Asked(told.name, item, result, None, None, suffices)
            self._cases[""].judge(asked, case)
        if told.name == RACES and self._certificate.others == "none":
            proved = [self._claims[""][number] for number in told.cases[0].proofs]
            if not no_others(circuit, proved):
                raise Rejected(RACES, "that no other race is there is not proved")

    def _item(self, told: Carrying, form: Form, moment: Moment | None = None) -> PropertyResult:
        """As far as the check of cases looks at it. All assumptions are taken for named. moment:
        None of one that comes free."""
        return PropertyResult(
            name=told.name,
            form=form,
            free=moment is None,
            moment=moment or "every_moment",
            verdict=told.verdict,
            instances=(),
            assumptions=tuple(
                UsedAssumption(one.name, one.reason) for one in self._circuit.assumptions
            ),
        )
