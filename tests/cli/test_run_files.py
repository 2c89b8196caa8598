"""Sequences that `prove` tells, as .run files that carry themselves out."""

from __future__ import annotations

from pathlib import Path

from tests.cli.command import ROOT, shutproof
from verifier import load_text
from verifier.runs.play import play
from verifier.runs.script import Strikes
from verifier.studies.options import Options
from verifier.studies.prove import prove_and_keep
from verifier.studies.told_runs import told_runs

VENT_LEFT_OUT = ROOT / "tests" / "designs" / "violated" / "heron_vent_left_out.ilk"


def test_every_story_becomes_a_run_that_shows_it(tmp_path: Path) -> None:
    done = shutproof("prove", VENT_LEFT_OUT, "--runs", tmp_path)
    assert done.returncode == 1
    files = sorted((tmp_path / "heron_vent_left_out").glob("*.run"))
    assert "discharge-with-a-vent-shut-i-1-j-2.run" in [file.name for file in files]
    assert f"{len(files)} runs of heron_vent_left_out" in done.stderr
    scripts = [argument for file in files for argument in ("--script", file)]
    again = shutproof("operate", VENT_LEFT_OUT, "--quiet", *scripts)
    assert again.returncode == 0, again.stdout + again.stderr
    assert again.stdout.count("1 of 1 expectation met") == len(files)


def test_faults_strike_in_them() -> None:
    """On skua a torn tube undoes the stop; the run is told of the design with that fault alone."""
    said = (
        'always "a torn tube does not undo the stop":\n'
        "    if pressed(station[k]) then shut(spindle[i]) for every k in 1..2, i in 1..3\n"
        "    tolerating any 1 fault of every torn of tubes\n"
    )
    loaded = load_text((ROOT / "specs" / "skua" / "skua.ilk").read_text() + said)
    names = ("a torn tube does not undo the stop",)
    result, study = prove_and_keep(loaded, Options(), names)
    ((_, script),) = told_runs(loaded.circuit, result, study)
    assert any(isinstance(line.what, Strikes) for line in script.lines)
    assert play(loaded.circuit, script).problems == ()
