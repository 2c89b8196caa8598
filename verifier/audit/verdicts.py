"""That every verdict of a folder has its evidence in it, and that nothing more is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec
from msgspec import Struct

from verifier.audit.outcome import Rejected
from verifier.audit.proofs import Proof
from verifier.evidence.claims import Claim, Free
from verifier.evidence.coverage import (
    Need,
    but_for,
    excluded_by,
    needs,
    needs_of_free,
    needs_of_races,
    shows,
    up_to,
)
from verifier.evidence.parting import objection_to, pair_of
from verifier.evidence.sequences import Recorded, Unreadable, replayed
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.run import Run
from verifier.report.bundle import MANIFEST, PROOFS, RESULT, SEQUENCES, result_files
from verifier.report.json import text_of
from verifier.report.manifest import Carried, Carrying, Manifest
from verifier.report.result import (
    DesignResult,
    InstanceResult,
    Mistake,
    PropertyResult,
    Result,
    worst,
)
from verifier.simulation.replay import ReplayError, replay
from verifier.studies.covering import FREE, RACES, WHOLE, told_by
from verifier.studies.modelling import CAUTIONS, in_force
from verifier.studies.names import element_name
from verifier.studies.parting import beyond, tell_parting
from verifier.studies.sequence_text import sequence_text


class Replayed(Struct, frozen=True):
    """A run that the simulator agreed to; `loop_from` as in `Recorded`."""

    run: Run
    loop_from: int | None


def read_sequences(
    circuit: Circuit, manifest: Manifest, files: Mapping[str, bytes]
) -> dict[str, Replayed]:
    """All sequences by number, replayed. Raises Rejected."""
    found = {}
    for path in sorted(files):
        if not path.startswith(f"{SEQUENCES}/") or not path.endswith(".json"):
            continue
        number = path.removeprefix(f"{SEQUENCES}/").removesuffix(".json")
        try:
            record = msgspec.json.decode(files[path], type=Recorded)
            run = replayed(circuit, record)
            replay(circuit, run)
        except (msgspec.DecodeError, UnicodeDecodeError, Unreadable, ReplayError) as problem:
            raise Rejected(path, str(problem)) from None
        words = sequence_text(circuit, run, record.loop_from, number, manifest.properties)
        _same(path, "what it records", files[path], text_of(record))
        _same(f"{SEQUENCES}/{number}.txt", "its story", files.get(f"{path[:-5]}.txt"), words)
        found[number] = Replayed(run, record.loop_from)
    return found


class Judge:
    """Looks for the evidence of each verdict. Raises Rejected where it is missing."""

    def __init__(
        self, loaded: Loaded, proofs: Mapping[str, Proof], sequences: Mapping[str, Replayed]
    ) -> None:
        self._circuit = loaded.circuit
        self._warnings = tuple(map(Mistake.of, loaded.warnings))
        self._claims = {number: proof.claim for number, proof in proofs.items()}
        self._sequences = sequences

    def design(self, manifest: Manifest, files: Mapping[str, bytes]) -> DesignResult:
        """The result that the folder has."""
        try:
            (design,) = msgspec.json.decode(files[RESULT], type=Result).designs
        except (msgspec.DecodeError, UnicodeDecodeError, ValueError) as problem:
            raise Rejected(RESULT, str(problem)) from None
        for name, content in result_files(design, CAUTIONS).items():
            _same(name, "what it says", files.get(name), content)
        circuit, items = self._circuit, design.properties
        head = (circuit.name, circuit.title, circuit.revision, manifest.source, self._warnings)
        said = (design.design, design.title, design.revision, design.file, design.warnings)
        _same(RESULT, "the head, or the warnings", said, head)
        _same(MANIFEST, "the head", (manifest.design, manifest.title, manifest.revision), head[:3])
        if Free() not in self._claims.values():
            raise Rejected(PROOFS, "no proof that the design can always move")
        known = [(False, item.name) for item in circuit.properties]
        known += ((True, name) for name in (*FREE, RACES))
        found = [(item.free, item.name) for item in items]
        _same(RESULT, "the properties", found, [one for one in known if one in found])
        listed = [item.name for item in manifest.properties]
        _same(MANIFEST, "the properties", listed, [item.name for item in items])
        for item, carrying in zip(items, manifest.properties, strict=True):
            self._property(known.index((item.free, item.name)), item, carrying)
        whole = worst(item.verdict for item in items)
        _same(RESULT, "the verdict", (design.verdict, manifest.verdict), (whole, whole))
        return design

    def _property(self, number: int, item: PropertyResult, carrying: Carrying) -> None:
        """Its wording is the design's, its verdict the worst of its cases; all are carried."""
        circuit, said = self._circuit, (item.form, item.free, item.moment, item.span, item.doc)
        derived: tuple[object, ...] = (item.name, True, "every_moment", None, "")
        wanted = [("", WHOLE if item.verdict == "inconclusive" else item.name)]
        if not item.free:
            asked = circuit.properties[number]
            derived = (asked.form, False, asked.moment, asked.span, asked.doc)
            wanted = [(one.label, one.words) for one in asked.instances]
        elif item.verdict == "delay dependent":
            wanted = [(one.label, f"where {one.label} stops") for one in item.instances]
        where = f"{RESULT}, {item.name!r}"
        _same(where, "the property", said, derived)
        _same(where, "the cases", [(one.label, one.words) for one in item.instances], wanted)
        _same(where, "what it rests on", item.modelling, tuple(m.name for m in in_force(item.form)))
        verdict = worst(case.verdict for case in item.instances)
        _same(where, "the verdict", (item.verdict, carrying.verdict), (verdict, verdict))
        cases = [(one.label, one.verdict) for one in item.instances]
        carried = [(one.label, one.verdict) for one in carrying.cases]
        _same(f"{MANIFEST}, {item.name!r}", "the cases", carried, cases)
        for i, (case, evidence) in enumerate(zip(item.instances, carrying.cases, strict=True)):
            if not item.free:
                suffices = needs(circuit, number, i, case.verdict)
            elif item.name == RACES:
                suffices = needs_of_races(case.verdict)
            else:
                suffices = needs_of_free(FREE[item.name], case.verdict)
            self._case(f"{where}, case {case.label!r}", item, case, evidence, suffices)
        proved = [self._claims[n] for n in carrying.cases[0].proofs] if carrying.cases else []
        rest = beyond(circuit, but_for(proved)) if item.verdict == "delay dependent" else ""
        if item.reason not in ("", rest):
            raise Rejected(where, "what is said of everything else is not proved")

    def _case(
        self,
        where: str,
        item: PropertyResult,
        case: InstanceResult,
        evidence: Carried,
        suffices: Sequence[Need],
    ) -> None:
        """The evidence named for it is enough, and its story is that of one of the sequences."""
        claims = [self._claims.get(number) for number in evidence.proofs]
        shown = [self._sequences.get(one.sequence) for one in evidence.sequences]
        runs = [
            Replayed(up_to(one.run, at.steps), one.loop_from)
            for one, at in zip(shown, evidence.sequences, strict=True)
            if one is not None and 0 <= at.steps <= len(one.run.steps)
        ]
        if None in claims or len(runs) < len(shown):
            raise Rejected(where, "its verdict rests on what is not there")
        if item.free and case.verdict == "delay dependent":
            enough = item.name == RACES and self._parts(case, [one.run for one in runs])
        else:
            enough = any(self._met(need, claims, runs) for need in suffices) and case.race is None
        if not enough:
            raise Rejected(where, f"nothing carries the verdict {case.verdict!r}")
        named = {(one.name, one.reason) for one in item.assumptions}
        for one in self._circuit.assumptions:
            helps = any(one.name in getattr(claim, "assumptions", ()) for claim in claims)
            if helps and (one.name, one.reason) not in named:
                raise Rejected(where, f"the proof assumes {one.name!r}, which is not said")
        if case.story and not any(told_by(self._circuit, case.story, one.run) for one in runs):
            raise Rejected(where, "its story is not that of a sequence named for it")

    def _met(self, need: Need, claims: Sequence[Claim | None], runs: Sequence[Replayed]) -> bool:
        """Whether the claims, which stand, exclude all that they must, and the runs show it."""
        excluded = {t for one in claims if one for t in excluded_by(self._circuit, one)}
        return set(need.excluded) <= excluded and all(
            any(shows(self._circuit, target, one.run, one.loop_from) for one in runs)
            for target in need.shown
        )

    def _parts(self, case: InstanceResult, runs: Sequence[Run]) -> bool:
        """Do two runs part an element of that name, and are they those that are told, if any?"""
        if len(runs) != 2:
            return False
        pair, circuit, told = pair_of(runs[0], runs[1]), self._circuit, case.race
        if told is not None and told != tell_parting(circuit, pair, shortest=told.shortest):
            return False
        named = [e for e in range(len(circuit.elements)) if element_name(circuit, e) == case.label]
        return any(not objection_to(circuit, pair, element) for element in named)


def _same(where: str, what: str, said: object, derived: object) -> None:
    if said != derived:
        raise Rejected(where, f"{what} is not what follows from the rest")
