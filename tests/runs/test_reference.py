"""The runs that the reference shows are carried out as it says."""

from __future__ import annotations

import re
from pathlib import Path

from verifier import load
from verifier.runs.play import play
from verifier.runs.read import read_run
from verifier.runs.script import Expects

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "grammar" / "REFERENCE.md").read_text()


def test_the_runs_of_the_reference_are_carried_out() -> None:
    shown = re.findall(r"^```run (\w+)\n(.*?)^```$", TEXT, re.MULTILINE | re.DOTALL)
    assert shown
    for name, text in shown:
        script = read_run(text)
        assert any(isinstance(line.what, Expects) for line in script.lines)
        circuit = load(ROOT / "specs" / name / f"{name}.ilk").circuit
        assert play(circuit, script).problems == ()
