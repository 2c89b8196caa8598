"""Evidence for properties that tolerate faults: of the circuit with these, in its own folder."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import msgspec
import pytest
from folders import Files, audited, kept, manifest_of, rejection, result_of, sealed

from verifier import load_text
from verifier.report import bundle
from verifier.report.result import LeftOut, PropertyResult
from verifier.studies.modelling import CAUTIONS

STOPS = """
design stops
use standard
supply tractor
part stop: push_button_3_2_normally_open
part foot: foot_valve
line air: tractor, stop.1
line lift: stop.2, foot.pilot
exclude fault foot stuck because "opened every day" source "common practice"
always "sound": if pressed(stop) then shut(foot)
always "torn": if pressed(stop) then shut(foot) tolerating any 1 fault of every torn of tubes
always "burst": if pressed(stop) then shut(foot) tolerating any 1 fault of every torn of tubes
always "blocked": if pressed(stop) then shut(foot) tolerating tube lift blocked
recovers "pressing shuts": after pushed(stop) then shut(foot)
  tolerating any 1 fault of kind foot_valve
"""
FOLDERS = {"sound": "", "torn": "faults/1", "burst": "faults/1", "blocked": "faults/2"}


@cache
def _made() -> Files:
    return kept(load_text(STOPS))


@pytest.fixture
def files() -> Files:
    return dict(_made())


def test_an_audit_accepts_it(files: Files, tmp_path: Path) -> None:
    outcomes = audited(files, tmp_path, without=("cvc5",))
    assert {one.step: one.status for one in outcomes if one.status != "accepted"} == {
        "cvc5": "left out"
    }


def test_every_circuit_has_its_folder(files: Files) -> None:
    found = {one.name: one.folder for one in manifest_of(files).properties if one.name in FOLDERS}
    assert found == FOLDERS
    for folder in ("faults/1", "faults/2", "faults/3"):
        assert f"{folder}/circuit.json" in files
    assert any(path.startswith("faults/2/sequences/") for path in files)
    assert not any(path.startswith("faults/4") for path in files)


def test_only_what_is_decided_is_kept(tmp_path: Path) -> None:
    some = kept(load_text(STOPS), names=("sound", "blocked"))
    assert "faults/2/circuit.json" in some
    assert not any(path.startswith(("faults/1", "faults/3")) for path in some)
    assert rejection(audited(some, tmp_path)) == ("", "")


def told(files: Files, name: str, **changes: object) -> Files:
    """The folder, saying something else of a property, and all that follows from that."""
    design = result_of(files)

    def put(item: PropertyResult) -> PropertyResult:
        return msgspec.structs.replace(item, **changes) if item.name == name else item

    design = msgspec.structs.replace(design, properties=tuple(map(put, design.properties)))
    return sealed({**files, **bundle.result_files(design, CAUTIONS)})


def item_of(files: Files, name: str) -> PropertyResult:
    return next(one for one in result_of(files).properties if one.name == name)


def test_faults_that_were_not_considered(files: Files, tmp_path: Path) -> None:
    tolerating = item_of(files, "torn").tolerating
    assert tolerating is not None
    more = msgspec.structs.replace(tolerating, faults=(*tolerating.faults, "tube lift blocked"))
    step, words = rejection(audited(told(files, "torn", tolerating=more), tmp_path))
    assert step == "verdicts"
    assert "the faults" in words


def test_an_exclusion_that_is_kept_silent(files: Files, tmp_path: Path) -> None:
    tolerating = item_of(files, "pressing shuts").tolerating
    assert tolerating is not None
    (left_out,) = tolerating.left_out
    assert left_out == LeftOut(("foot stuck",), "opened every day", "common practice")
    silent = msgspec.structs.replace(tolerating, left_out=())
    forged = told(files, "pressing shuts", tolerating=silent)
    assert rejection(audited(forged, tmp_path))[0] == "verdicts"


def test_a_verdict_on_the_sound_circuit_in_its_place(files: Files, tmp_path: Path) -> None:
    """What is proved of the sound circuit carries nothing that tolerates faults."""
    properties = list(manifest_of(files).properties)
    sound = next(one for one in properties if one.name == "sound")
    for number, one in enumerate(properties):
        if one.name == "blocked":
            properties[number] = msgspec.structs.replace(sound, name="blocked")
    forged = sealed(
        told(files, "blocked", instances=item_of(files, "sound").instances, verdict="holds"),
        properties=tuple(properties),
        verdict="violated",
    )
    assert rejection(audited(forged, tmp_path))[0] in ("sequences", "verdicts")


def test_another_circuit_with_faults(files: Files, tmp_path: Path) -> None:
    forged = sealed({**files, "faults/2/circuit.json": files["faults/1/circuit.json"]})
    assert rejection(audited(forged, tmp_path))[0] == "source"


def test_a_proof_of_another_circuit(files: Files, tmp_path: Path) -> None:
    """The proofs of what stands a torn tube do not show that it stands a blocked one."""
    moved = {path: content for path, content in files.items() if not path.startswith("faults/2/p")}
    for path, content in files.items():
        if path.startswith("faults/1/proofs"):
            moved[path.replace("faults/1", "faults/2")] = content
    assert rejection(audited(sealed(moved), tmp_path))[0] in ("obligations", "verdicts")
