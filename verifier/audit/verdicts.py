"""That every verdict of a folder has its evidence in it, and that nothing more is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from verifier.audit.cases import Asked, Cases, Replayed
from verifier.audit.outcome import Rejected
from verifier.audit.proofs import Proof
from verifier.evidence.claims import Claim, Free
from verifier.evidence.coverage import (
    but_for,
    needs,
    needs_of_free,
    needs_of_races,
    no_others,
)
from verifier.evidence.sequences import Recorded, Unreadable, replayed
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.tolerant import tolerances
from verifier.report.bundle import (
    MANIFEST,
    PROOFS,
    RESULT,
    SEQUENCES,
    folder_of,
    inside,
    result_files,
)
from verifier.report.json import text_of
from verifier.report.manifest import Carrying, Manifest
from verifier.report.result import (
    DesignResult,
    Mistake,
    PropertyResult,
    Result,
    UsedAssumption,
    worst,
)
from verifier.simulation.replay import ReplayError, replay
from verifier.studies.covering import FREE, RACES, WHOLE
from verifier.studies.modelling import CAUTIONS, all_in_force, in_force, notes
from verifier.studies.parting import beyond, unmet
from verifier.studies.sequence_text import sequence_text
from verifier.studies.tolerated import tolerated
from verifier.studies.wording import NO_MOVEMENT, NO_TRIGGER, WITHOUT


def read_sequences(
    circuit: Circuit, manifest: Manifest, files: Mapping[str, bytes], folder: str = ""
) -> dict[str, Replayed]:
    """All sequences of one circuit, which lie in `folder`, by number, replayed. Raises Rejected."""
    found = {}
    sequences_in = f"{inside(folder, SEQUENCES)}/"
    carrying = [one for one in manifest.properties if one.folder == folder]
    for path in sorted(files):
        if not path.startswith(sequences_in) or not path.endswith(".json"):
            continue
        number = path.removeprefix(sequences_in).removesuffix(".json")
        try:
            record = msgspec.json.decode(files[path], type=Recorded)
            run = replayed(circuit, record)
            replay(circuit, run)
        except (msgspec.DecodeError, UnicodeDecodeError, Unreadable, ReplayError) as problem:
            raise Rejected(path, str(problem)) from None
        words = sequence_text(circuit, run, record.loop_from, number, carrying)
        _same(path, "what it records", files[path], text_of(record))
        _same(f"{path[:-5]}.txt", "its story", files.get(f"{path[:-5]}.txt"), words)
        found[number] = Replayed(run, record.loop_from)
    return found


class Judge:
    """Looks for the evidence of each verdict. Raises Rejected where it is missing."""

    def __init__(
        self,
        loaded: Loaded,
        circuits: Mapping[str, Circuit],
        proofs: Mapping[str, Mapping[str, Proof]],
        sequences: Mapping[str, Mapping[str, Replayed]],
    ) -> None:
        """circuits, proofs, sequences: by the folder in which they lie."""
        self._circuit = loaded.circuit
        self._circuits = circuits
        self._warnings = tuple(map(Mistake.of, loaded.warnings))
        self._claims = {
            folder: {number: proof.claim for number, proof in found.items()}
            for folder, found in proofs.items()
        }
        self._cases = {
            folder: Cases(circuit, self._claims[folder], sequences[folder])
            for folder, circuit in circuits.items()
        }

    def design(self, manifest: Manifest, files: Mapping[str, bytes]) -> DesignResult:
        """The result that the folder has."""
        try:
            (design,) = msgspec.json.decode(files[RESULT], type=Result).designs
        except (msgspec.DecodeError, UnicodeDecodeError, ValueError) as problem:
            raise Rejected(RESULT, str(problem)) from None
        for name, content in result_files(design, CAUTIONS).items():
            _same(name, "what it says", files.get(name), content)
        circuit, items = self._circuit, design.properties
        head = (circuit.name, circuit.title, circuit.revision, manifest.source)
        said = (design.design, design.title, design.revision, design.file)
        _same(RESULT, "the head", said, head)
        _same(MANIFEST, "the head", (manifest.design, manifest.title, manifest.revision), head[:3])
        told: tuple[object, ...] = (design.warnings, design.notes, design.modelling)
        derived = (self._warnings, notes(circuit), all_in_force(items))
        _same(RESULT, "what is said of the design as a whole", told, derived)
        for folder, claims in self._claims.items():
            if Free() not in claims.values():
                where = inside(folder, PROOFS)
                raise Rejected(where, "no proof that the design can always move")
        known = self._known()
        found = [(item.free, item.name) for item in items]
        _same(RESULT, "the properties", found, [one for one in known if one in found])
        listed = [item.name for item in manifest.properties]
        _same(MANIFEST, "the properties", listed, [item.name for item in items])
        for item, carrying in zip(items, manifest.properties, strict=True):
            self._property(known.index((item.free, item.name)), item, carrying)
        whole = worst(item.verdict for item in items)
        _same(RESULT, "the verdict", (design.verdict, manifest.verdict), (whole, whole))
        return design

    def undecided(self, design: DesignResult) -> list[str]:
        """Properties that the design is asked for and the result does not have."""
        decided = {(item.free, item.name) for item in design.properties}
        return [name for free, name in self._known() if (free, name) not in decided]

    def _known(self) -> list[tuple[bool, str]]:
        """All properties: whether each is a free one, and its name."""
        known = [(False, item.name) for item in self._circuit.properties]
        without = {"comes to rest"} if self._circuit.runs_on else set()
        return known + [(True, name) for name in (*FREE, RACES) if name not in without]

    def _judged_of(self, number: int, item: PropertyResult) -> tuple[str, Circuit, int]:
        """The folder and the circuit that the property is judged of, and its number there."""
        if not item.free and self._circuit.properties[number].tolerating is not None:
            for place, tolerance in enumerate(tolerances(self._circuit)):
                if number in tolerance.properties:
                    folder = folder_of(place)
                    if folder in self._circuits:
                        own = tolerance.properties.index(number)
                        return folder, self._circuits[folder], own
            raise Rejected(f"{RESULT}, {item.name!r}", "its circuit with faults is not there")
        return "", self._circuit, number

    def _property(self, number: int, item: PropertyResult, carrying: Carrying) -> None:
        """Its wording is the design's, its verdict the worst of its cases; all are carried."""
        folder, circuit, own = self._judged_of(number, item)
        where, said = f"{RESULT}, {item.name!r}", (item.form, item.free, item.moment, item.span)
        derived: tuple[object, ...] = (item.name, True, "every_moment", None)
        faults, doc = None, ""
        told = [one.words for one in item.instances]
        wanted = [("", WHOLE if told == [WHOLE] and item.verdict == "inconclusive" else item.name)]
        if not item.free:
            asked = self._circuit.properties[number]
            derived = (asked.form, False, asked.moment, asked.span)
            faults, doc = tolerated(self._circuit, asked), asked.doc
            wanted = [(one.label, one.words) for one in asked.instances]
        elif item.verdict == "delay dependent":
            wanted = [(one.label, f"where {one.label} stops") for one in item.instances]
        _same(where, "the property", (*said, item.doc), (*derived, doc))
        _same(where, "the faults", item.tolerating, faults)
        _same(f"{MANIFEST}, {item.name!r}", "the folder", carrying.folder, folder)
        _same(where, "the cases", [(one.label, one.words) for one in item.instances], wanted)
        rests_on = in_force(item.form, tolerant=faults is not None)
        _same(where, "what it rests on", item.modelling, tuple(m.name for m in rests_on))
        verdict = worst(case.verdict for case in item.instances)
        _same(where, "the verdict", (item.verdict, carrying.verdict), (verdict, verdict))
        cases = [(one.label, one.verdict) for one in item.instances]
        carried = [(one.label, one.verdict) for one in carrying.cases]
        _same(f"{MANIFEST}, {item.name!r}", "the cases", carried, cases)
        witnessed = any(one.witnesses for one in item.instances)
        known_whys = ("",) if witnessed else ("", NO_MOVEMENT, NO_TRIGGER, *WITHOUT.values())
        if item.no_witness not in known_whys:
            raise Rejected(where, "why it has no witness is not what follows from the rest")
        of_design = {UsedAssumption(one.name, one.reason) for one in circuit.assumptions}
        if not of_design.issuperset(item.assumptions):
            raise Rejected(where, "it names an assumption that the design does not make")
        for i, (case, evidence) in enumerate(zip(item.instances, carrying.cases, strict=True)):
            here, form, instance = f"{where}, case {case.label!r}", None, None
            if not item.free:
                form, instance = circuit.properties[own], circuit.properties[own].instances[i]
                suffices = needs(circuit, own, i, case.verdict)
            elif item.name == RACES:
                suffices = needs_of_races(case.verdict)
            else:
                suffices = needs_of_free(FREE[item.name], case.verdict)
            self._cases[folder].judge(Asked(here, item, case, form, instance, suffices), evidence)
        proved = (
            [self._claims[folder][n] for n in carrying.cases[0].proofs] if carrying.cases else []
        )
        rest = beyond(circuit, but_for(proved)) if item.verdict == "delay dependent" else ""
        if item.reason not in ("", rest):
            raise Rejected(where, "what is said of everything else is not proved")
        self._accepted(where, item, proved)

    def _accepted(self, where: str, item: PropertyResult, proved: Sequence[Claim]) -> None:
        """Which races of those that the design accepts are there, and whether there are others."""
        circuit, races = self._circuit, item.free and item.name == RACES
        _same(where, "races not found", item.unmet, unmet(circuit, item.instances) * races)
        parted = item.verdict == "delay dependent"
        asked = races and parted and all(one.accepted for one in item.instances)
        if bool(item.others) != asked or (item.others == "none" and not no_others(circuit, proved)):
            raise Rejected(where, "that no other race is there is not proved")


def _same(where: str, what: str, said: object, derived: object) -> None:
    if said != derived:
        raise Rejected(where, f"{what} is not what follows from the rest")
