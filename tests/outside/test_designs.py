"""What all designs of the outside checks, and the catalogue, have in common."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.outside.outcomes import DESIGNS, circuit_named, explored, verdicts
from verifier.diagnostics.limits import Limits
from verifier.model.load import load
from verifier.shipped import grammar_folder
from verifier.simulation.races import races
from verifier.simulation.rest import comes_to_rest
from verifier.studies.prove import prove
from verifier.syntax.layout import layout
from verifier.syntax.parse import parse

NAMES = [
    path.stem for path in sorted(DESIGNS.glob("*.ilk")) if "\ndesign " in "\n" + path.read_text()
]
FILES = [grammar_folder() / "standard.ilk", *sorted(DESIGNS.glob("*.ilk"))]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_canonical_layout(path: Path) -> None:
    text = path.read_text()
    assert layout(parse(text, path.name, Limits())) == text


@pytest.mark.parametrize("name", NAMES)
def test_proofs_agree_with_explicit_search(name: str) -> None:
    """Published truth is checked with the simulator elsewhere; the prover must say the same."""
    result = prove(load(DESIGNS / f"{name}.ilk"))
    found = {item.name: item.verdict for item in result.properties if not item.free}
    assert found == verdicts(name)
    free = {item.name: item.verdict for item in result.properties if item.free}
    assert free["no contest"] == explored(name).contest().truth
    truth = "delay dependent" if races(explored(name)).apart else "holds"
    assert free["no race"] == truth
    if "comes to rest" in free and not circuit_named(name).runs_on:
        truth = comes_to_rest(explored(name)).truth
        assert free["comes to rest"] in (truth, "inconclusive")
