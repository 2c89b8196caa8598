"""Folders of evidence in memory, and somebody who forges them without leaving a loose end."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from functools import cache
from pathlib import Path

import msgspec

from verifier import load_text
from verifier.audit.audit import Wanted, audit
from verifier.audit.outcome import Outcome
from verifier.diagnostics.limits import Limits
from verifier.evidence.claims import Claim, posed
from verifier.evidence.sequences import Recorded, replayed
from verifier.model.load import Loaded, load
from verifier.report import bundle
from verifier.report.json import text_of
from verifier.report.manifest import Manifest
from verifier.report.result import DesignResult, InstanceResult, PropertyResult, Result, worst
from verifier.solving.refutation import refute
from verifier.studies.bundle import bundle_files
from verifier.studies.modelling import CAUTIONS
from verifier.studies.options import Options
from verifier.studies.prove import prove_and_keep
from verifier.studies.sequence_text import sequence_text
from verifier.transition import dimacs
from verifier.transition.compile import compile_circuit

ROOT = Path(__file__).resolve().parents[2]
OUTSIDE = ROOT / "tests" / "outside" / "designs"

Files = dict[str, bytes]

PROVERS = ("z3", "cvc5", "drat")

# Every verdict but the delay dependent one, an assumption that a proof needs, and a procedure.
MIXED = """\
design mixed "One compartment with a flaw"
use standard
supply tractor
part stop   : emergency_stop_exhausting role stop
part master : push_pull_3_2_spring role master
part vent   : sequence_vent
part foot   : foot_valve
line air   : tractor, stop.1
line armed : stop.2, master.1
line rise  : master.2, vent.in, foot.pilot
plug vent.out
place tank, coupling, sky
liquid tank - foot - coupling
vapour tank - vent - sky
assume "the air stays on" because "the tractor runs while the trailer discharges":
    always if pulled(master) then tractor is present
always "the stop shuts":
    if pressed(stop) then shut(foot) and shut(vent)
never at every moment "drawn without air":
    open(vent) and pulled(master) and tractor is absent
never "discharge with the vent shut":
    flow(tank, coupling) and not open(vent)
never at every moment "discharge with the vent shut, on the way":
    flow(tank, coupling) and not open(vent)
possible "discharge":
    flow(tank, coupling)
possible "discharge with the stop in":
    flow(tank, coupling) and pressed(stop)
always "what never happens":
    if pressed(stop) and open(foot) then open(vent)
recovers "the stop shuts whatever came before":
    after pushed(stop) then shut(foot) and shut(vent)
"""

DESIGNS: dict[str, Callable[[], Loaded]] = {
    "compartment": lambda: load(ROOT / "tests" / "designs" / "holds" / "one_compartment.ilk"),
    "mixed": lambda: load_text(MIXED),
    "latch": lambda: load(OUTSIDE / "nor_latch.ilk"),
    "ring": lambda: load(OUTSIDE / "ring.ilk"),
    "runs on": lambda: load(OUTSIDE / "cascade.ilk"),
    "signals": lambda: load(OUTSIDE / "shuttle_or.ilk"),
}


def kept(loaded: Loaded, options: Options | None = None, names: Iterable[str] = ()) -> Files:
    """The folder that `prove --evidence` writes."""
    result, study = prove_and_keep(loaded, options, tuple(names))
    return dict(bundle_files(loaded, result, study))


@cache
def _made(name: str) -> Files:
    return kept(DESIGNS[name]())


def made(name: str) -> Files:
    """The folder of one of the designs, to be changed at will."""
    return dict(_made(name))


def put(files: Files, folder: Path) -> Path:
    """Writes the folder."""
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return folder


def audited(
    files: Files, folder: Path, without: Iterable[str] = PROVERS, digests: Iterable[str] = ()
) -> list[Outcome]:
    """What an audit says of it; most tests need no prover."""
    return list(audit(put(files, folder), Wanted(tuple(digests), tuple(without)), Limits()))


def rejection(outcomes: list[Outcome]) -> tuple[str, str]:
    """The step that rejected, and its words; empty if none did."""
    return next(((one.step, one.words) for one in outcomes if one.status == "rejected"), ("", ""))


def manifest_of(files: Files) -> Manifest:
    return bundle.manifest_from(files[bundle.MANIFEST])


def sealed(files: Files, **changes: object) -> Files:
    """With a manifest that lists what is there, and a digest that is right."""
    manifest = msgspec.structs.replace(manifest_of(files), **changes)
    others = {path: content for path, content in files.items() if path != bundle.MANIFEST}
    listed = tuple(bundle.file_of(path, others[path]) for path in sorted(others))
    manifest = msgspec.structs.replace(manifest, files=listed)
    return {**others, bundle.MANIFEST: text_of(bundle.sealed(manifest))}


def result_of(files: Files) -> DesignResult:
    (design,) = msgspec.json.decode(files[bundle.RESULT], type=Result).designs
    return design


def claim_of(files: Files, number: str) -> Claim:
    return msgspec.json.decode(files[f"{bundle.PROOFS}/{number}/{bundle.CLAIM}"], type=Claim)


def proofs_of(files: Files) -> list[str]:
    return sorted({path.split("/")[1] for path in files if path.startswith(f"{bundle.PROOFS}/")})


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
