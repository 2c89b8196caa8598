"""ISO 13849-1: its worked figures, from memory of the standard unless a source is named."""

from __future__ import annotations

import math

import pytest

from verifier.risk.lifetime import struck_within
from verifier.risk.machinery import (
    band_of,
    capped,
    cycles_a_year,
    in_series,
    mttfd_of,
    mttfd_of_cycles,
    of_two_channels,
    rate_of,
    replaced_after,
)
from verifier.risk.structure import structure


def test_example_of_annex_c_4_3() -> None:
    """A valve of B10d 60e6, 220 days a year, 16 hours a day, a cycle of 5 s. Printed: 2.53e6 cycles
    a year, T10d 23.7 years, MTTFd 237 years. The formula is also in public copies."""
    cycles = cycles_a_year(220, 16, 5)
    assert cycles == pytest.approx(2.5344e6)
    assert replaced_after(60e6, cycles) == pytest.approx(23.67, abs=0.005)
    assert mttfd_of_cycles(60e6, cycles) == pytest.approx(236.7, abs=0.05)
    # Table C.1 for pneumatic parts: 20e6.
    assert mttfd_of_cycles(20e6, cycles) == pytest.approx(236.7 / 3, abs=0.05)


def test_parts_in_series() -> None:
    assert in_series([150, 100, 50]) == pytest.approx(27.27, abs=0.005)


def test_example_of_annex_d_2() -> None:
    """Channels of 3 and 100 years are worth two of 66.7 (printed 66)."""
    assert of_two_channels(3, 100) == pytest.approx(66.7, abs=0.05)
    assert of_two_channels(40, 40) == pytest.approx(40)


@pytest.mark.parametrize(
    ("years", "printed"),
    [(3, 3.80e-5), (3.3, 3.46e-5), (3.6, 3.17e-5), (10, 1.14e-5), (30, 3.80e-6), (100, 1.14e-6)],
)
def test_annex_k_of_a_single_channel(years: float, printed: float) -> None:
    """Categories B and 1: dangerous failures an hour are those of the channel."""
    assert rate_of(years) == pytest.approx(printed, rel=0.01)
    assert mttfd_of(rate_of(years)) == pytest.approx(years)


@pytest.mark.parametrize(
    ("years", "band"),
    [(2.9, "below low"), (3, "low"), (9.9, "low"), (10, "medium"), (29.9, "medium"), (30, "high")],
)
def test_bands(years: float, band: str) -> None:
    assert band_of(years) == band


def test_no_more_than_a_hundred_years_count() -> None:
    assert (capped(236.7), capped(42)) == (100, 42)


@pytest.mark.parametrize("x", [1e-12, 1e-3, 1.0, 30.0])
def test_constant_rate(x: float) -> None:
    assert float(struck_within(x, 1)) == pytest.approx(-math.expm1(-x), rel=1e-15)
    assert struck_within(0, 1) == 0


def test_time_before_the_start() -> None:
    with pytest.raises(ValueError, match="below 0"):
        struck_within(1e-6, -1)


@pytest.mark.parametrize(
    ("sizes", "complete_to", "single", "words"),
    [
        ([0], 0, "no fault needed", "without any fault"),
        ([1, 2], 2, "one is enough", "category B, 1 or 2"),
        ([1], 0, "one is enough", "single fault"),
        ([2, 2], 2, "none is enough", "no single fault of 7"),
        ([], 1, "none is enough", "no single fault of 7"),
        ([], None, "none is enough", "no single fault of 7"),
        ([2], 0, "not decided", "not decided"),
        ([], -1, "not decided", "not decided"),
    ],
)
def test_structural_statement(
    sizes: list[int], complete_to: int | None, single: str, words: str
) -> None:
    """Category 3 asks that a single fault does not lead to the loss of the function."""
    found = structure(sizes, complete_to, 7, 2)
    assert found.single == single
    assert words in found.statement
    assert found.least == min(sizes, default=None)
    assert ("2 more are excluded" in found.statement) == (single != "no fault needed")
