"""Formulas and bands of ISO 13849-1 (from memory; that of B10d also from public copies)."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from verifier.risk.lifetime import HOURS_A_YEAR

Band = Literal["below low", "low", "medium", "high"]

MOST_YEARS = 100.0
"""Of a channel no more counts (2500 in category 4)."""


def cycles_a_year(days: float, hours_a_day: float, seconds_a_cycle: float) -> float:
    """n_op."""
    return days * hours_a_day * 3600 / seconds_a_cycle


def replaced_after(b10d: float, cycles: float) -> float:
    """T10d in years: until then the rate may be taken as constant, then the part is replaced."""
    return b10d / cycles


def mttfd_of_cycles(b10d: float, cycles: float) -> float:
    """MTTFd in years, from the cycles until a tenth failed dangerously and those of a year."""
    return b10d / (0.1 * cycles)


def rate_of(mttfd: float) -> float:
    """Dangerous failures an hour."""
    return 1 / (mttfd * HOURS_A_YEAR)


def mttfd_of(per_hour: float) -> float:
    """Years."""
    return 1 / (per_hour * HOURS_A_YEAR)


def in_series(mttfds: Iterable[float]) -> float:
    """MTTFd in years of what fails when any of its parts does (parts count, Annex D.1)."""
    return 1 / sum(1 / years for years in mttfds)


def of_two_channels(one: float, other: float) -> float:
    """MTTFd of each of two equal channels that are worth two unequal ones (Annex D.2)."""
    return 2 / 3 * (one + other - 1 / (1 / one + 1 / other))


def capped(mttfd: float) -> float:
    return min(mttfd, MOST_YEARS)


def band_of(mttfd: float) -> Band:
    """Of the MTTFd of a channel, in years."""
    if mttfd < 3:
        return "below low"
    if mttfd < 10:
        return "low"
    return "medium" if mttfd < 30 else "high"
