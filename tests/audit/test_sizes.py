"""Folders of evidence stay of a size that can be sent and checked."""

from __future__ import annotations

import time
from pathlib import Path

from folders import Files, audited, kept, proofs_of, rejection

from tests.benchmarks.families import FAMILIES
from verifier import load_text
from verifier.report.bundle import CIRCUIT, CLAUSES, PROOFS, REFUTATION, SCRIPT


def bank(compartments: int, manifolds: int) -> Files:
    return kept(load_text(FAMILIES["bank"].member(compartments, manifolds).text))


def size_of(files: Files, name: str) -> int:
    return sum(len(content) for path, content in files.items() if path.endswith(name))


def test_a_bank_of_selectors(tmp_path: Path) -> None:
    """A proof is written once, however many cases rest on it; refutations are no longer than a few
    times what they refute."""
    files = bank(4, 2)
    assert len(proofs_of(files)) < 30
    assert sum(len(content) for content in files.values()) < 6 * len(files[CIRCUIT])
    for number in proofs_of(files):
        place = f"{PROOFS}/{number}"
        assert len(files[f"{place}/{REFUTATION}"]) < 4 * len(files[f"{place}/{CLAUSES}"]) + 100
        assert len(files[f"{place}/{SCRIPT}"]) < 2 * len(files[f"{place}/{CLAUSES}"]) + 100
    began = time.process_time()
    assert rejection(audited(files, tmp_path, without=["z3", "cvc5"])) == ("", "")
    assert time.process_time() - began < 60


def test_scripts_and_clauses_grow_as_the_design_does() -> None:
    """Twice the compartments: four times the pairs, and no more than that, twice over."""
    small, large = bank(3, 1), bank(6, 1)
    for name in (SCRIPT, CLAUSES, REFUTATION):
        assert size_of(large, name) < 8 * size_of(small, name), name
