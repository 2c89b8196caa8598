"""The work that proofs cost, counted in solver steps so that no clock and no machine matters."""

from __future__ import annotations

import pytest

from tests.benchmarks.costs import measure
from tests.benchmarks.library import path_of


@pytest.mark.parametrize(("design", "most"), [("heron", 3_000), ("petrel", 10_000)])
def test_work_stays_in_bounds(design: str, most: int) -> None:
    """Bounds are about three times what it took when they were set; raise them with a reason."""
    result, work, _ = measure(path_of(design))
    assert result.verdict in ("holds", "delay dependent")
    assert 0 < work.units < most


def test_work_is_the_same_every_time() -> None:
    path = path_of("heron")
    (_, first, _), (_, second, _) = measure(path), measure(path)
    assert first == second
