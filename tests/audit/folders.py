"""Folders of evidence in memory, and what an audit says of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

import msgspec

from verifier import load_text
from verifier.audit.audit import Wanted, audit
from verifier.audit.outcome import Outcome
from verifier.diagnostics.limits import Limits
from verifier.evidence.claims import Claim
from verifier.model.load import Loaded, load
from verifier.report import bundle
from verifier.report.json import text_of
from verifier.report.manifest import Manifest
from verifier.report.result import DesignResult, Result
from verifier.studies.bundle import bundle_files
from verifier.studies.options import Options
from verifier.studies.prove import prove_and_keep

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

# Races, one of them accepted in fair weather only, and one that is accepted and not there.
RACES = """\
design races
use standard
surroundings weather: fair, foul
supply tractor
part left: push_pull_3_2_spring
part right: push_pull_3_2_spring
part either: shuttle_valve
part lamp: visual_indicator
line air: tractor, left.1, right.1
line one: left.2, either.a
line two: right.2, either.b
line out: either.out, lamp.in
accept race of lamp because "there is none"
accept race of either while weather is fair because "one sees the lamp"
"""
ACCEPTED = RACES + 'accept race of either while weather is foul because "one hears it"\n'

DESIGNS: dict[str, Callable[[], Loaded]] = {
    "compartment": lambda: load(ROOT / "tests" / "designs" / "holds" / "one_compartment.ilk"),
    "mixed": lambda: load_text(MIXED),
    "latch": lambda: load(OUTSIDE / "nor_latch.ilk"),
    "ring": lambda: load(OUTSIDE / "ring.ilk"),
    "runs on": lambda: load(OUTSIDE / "cascade.ilk"),
    "races": lambda: load_text(RACES),
    "accepted": lambda: load_text(ACCEPTED),
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
