"""What all designs of the outside checks, and the catalogue, have in common."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.outside.outcomes import DESIGNS
from verifier.diagnostics.limits import Limits
from verifier.shipped import grammar_folder
from verifier.syntax.layout import layout
from verifier.syntax.parse import parse

FILES = [grammar_folder() / "standard.ilk", *sorted(DESIGNS.glob("*.ilk"))]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_canonical_layout(path: Path) -> None:
    text = path.read_text()
    assert layout(parse(text, path.name, Limits())) == text
