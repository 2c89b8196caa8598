"""Somebody who forges folders of evidence without leaving a loose end."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import msgspec
from folders import (
    DESIGNS,
    Files,
    audited,
    claim_of,
    made,
    manifest_of,
    proofs_of,
    rejection,
    result_of,
    sealed,
)

from verifier.evidence.claims import Rests, posed
from verifier.evidence.sequences import Recorded, replayed
from verifier.report import bundle
from verifier.report.json import text_of
from verifier.report.manifest import Shown
from verifier.report.result import InstanceResult, PropertyResult, worst
from verifier.solving.refutation import refute
from verifier.studies.modelling import CAUTIONS
from verifier.studies.sequence_text import sequence_text
from verifier.transition import dimacs
from verifier.transition.compile import compile_circuit

AIR = "drawn without air"
FLAW = "discharge with the vent shut, on the way"
NEVER = "what never happens"


class Forger:
    """Changes a folder and then everything that follows from the change, so that only what is not
    true can give it away."""

    def __init__(self, name: str) -> None:
        self.files = made(name)
        self.loaded = DESIGNS[name]()
        self.circuit = self.loaded.circuit
        self.compiled = compile_circuit(self.circuit)
        self.manifest = manifest_of(self.files)
        self.design = result_of(self.files)

    def item(self, name: str) -> PropertyResult:
        return next(one for one in self.design.properties if one.name == name)

    def tell(self, name: str, **changes: object) -> None:
        """Says something else of a property."""
        self.design = msgspec.structs.replace(
            self.design,
            properties=tuple(
                msgspec.structs.replace(one, **changes) if one.name == name else one
                for one in self.design.properties
            ),
        )

    def tell_case(self, name: str, index: int = 0, **changes: object) -> None:
        """Says something else of a case; the verdict on the property follows."""
        cases: list[InstanceResult] = list(self.item(name).instances)
        cases[index] = msgspec.structs.replace(cases[index], **changes)
        self.tell(name, instances=tuple(cases), verdict=worst(one.verdict for one in cases))

    def carry(self, name: str, index: int = 0, **changes: object) -> None:
        """Names other evidence for a case."""
        properties = []
        for item in self.manifest.properties:
            cases = list(item.cases)
            if item.name == name:
                cases[index] = msgspec.structs.replace(cases[index], **changes)
            properties.append(msgspec.structs.replace(item, cases=tuple(cases)))
        self.manifest = msgspec.structs.replace(self.manifest, properties=tuple(properties))

    def claim(self, number: str, **changes: object) -> None:
        """Claims something else; a refutation is found for it if there is one."""
        claim = msgspec.structs.replace(claim_of(self.files, number), **changes)
        place = f"{bundle.PROOFS}/{number}"
        for path, content in bundle.proof_files(self.compiled, claim).items():
            self.files[f"{place}/{path}"] = content
        refutation = refute(dimacs.clauses_of(posed(self.compiled, claim))[1])
        if refutation is not None:
            self.files[f"{place}/{bundle.REFUTATION}"] = refutation.encode()

    def record(self, number: str, record: Recorded) -> None:
        """Puts another sequence in the place of one."""
        self.files[f"{bundle.SEQUENCES}/{number}.json"] = text_of(record)

    def recorded(self, number: str) -> Recorded:
        return msgspec.json.decode(self.files[f"{bundle.SEQUENCES}/{number}.json"], type=Recorded)

    def sequences(self) -> list[str]:
        names = (path.split("/")[1] for path in self.files if path.startswith("sequences/"))
        return sorted(name.removesuffix(".json") for name in names if name.endswith(".json"))

    def finished(self) -> Files:
        """The forged folder, sealed."""
        whole = worst(item.verdict for item in self.design.properties)
        self.design = msgspec.structs.replace(self.design, verdict=whole)
        known = {item.name: item for item in self.design.properties}
        properties = []
        for carrying in self.manifest.properties:
            if carrying.name in known:
                item = known[carrying.name]
                cases = tuple(
                    msgspec.structs.replace(one, label=case.label, verdict=case.verdict)
                    for one, case in zip(carrying.cases, item.instances, strict=False)
                )
                properties.append(
                    msgspec.structs.replace(carrying, verdict=item.verdict, cases=cases)
                )
        manifest = msgspec.structs.replace(
            self.manifest, verdict=whole, properties=tuple(properties)
        )
        self.files.update(bundle.result_files(self.design, CAUTIONS))
        self.files[bundle.READ_ME] = bundle.read_me(manifest)
        self.files[bundle.MANIFEST] = text_of(manifest)
        for number in self.sequences():
            record = self.recorded(number)
            run = replayed(self.circuit, record)
            # A run that the rules do not allow has no story.
            with suppress(ValueError):
                told = sequence_text(
                    self.circuit, run, record.loop_from, number, manifest.properties
                )
                self.files[f"{bundle.SEQUENCES}/{number}.txt"] = told
        return sealed(self.files)


def proof_of(forger: Forger, name: str) -> str:
    """The number of the only proof that a property rests on."""
    item = next(one for one in forger.manifest.properties if one.name == name)
    (number,) = item.cases[0].proofs
    return number


def rests_of(forger: Forger) -> str:
    numbers = proofs_of(forger.files)
    return next(n for n in numbers if isinstance(claim_of(forger.files, n), Rests))


def judged(files: Files, folder: Path) -> tuple[str, str]:
    return rejection(audited(files, folder))


def named(forger: Forger, name: str) -> tuple[Shown, ...]:
    return next(one for one in forger.manifest.properties if one.name == name).cases[0].sequences
