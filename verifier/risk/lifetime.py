"""From rates of failure and times to probabilities."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction

HOURS_A_YEAR = 8760
"""As in ISO 13849-1."""

_DIGITS = 120


def struck_within(per_hour: float, hours: float) -> Fraction:
    """Probability that a fault of constant rate has struck after so many hours: 1 - exp(-rate *
    time), to over a hundred digits. Raises ValueError below 0."""
    if per_hour < 0 or hours < 0:
        raise ValueError(f"{per_hour} an hour, {hours} hours: neither may be below 0")
    with localcontext() as context:
        context.prec = _DIGITS
        spared = (-Decimal(per_hour) * Decimal(hours)).exp()
        return Fraction(1 - spared)
