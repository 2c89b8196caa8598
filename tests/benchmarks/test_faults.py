"""The table on faults: a small design from end to end, and that all ways agree on it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.benchmarks.child import Limit
from tests.benchmarks.contestants import program
from tests.benchmarks.faults import VENTS, measured, shown


def test_small_design_from_end_to_end(tmp_path: Path) -> None:
    if program() is None:
        pytest.fail("pyosys is not installed")
    path = tmp_path / "vents.ilk"
    path.write_text(VENTS)
    row = measured(path, "vents", 1, Limit(60.0))
    assert row.complete
    assert row.sets == 13
    # yosys-abc proves that what we found is all.
    assert "open" not in row.pdr
    (head, line) = shown([row])
    assert len(head) == len(line)
