"""Numbers between two others, in fixed point: what is computed with them is never rounded away."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

BITS = 384
"""Binary places. A million roundings leave over a hundred decimal places."""

_ONE = 1 << BITS


class Between(Struct, frozen=True):
    """The number is at least `low` and at most `high`, both in units of 2^-BITS."""

    low: int
    high: int

    def __add__(self, other: Between) -> Between:
        return Between(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Between) -> Between:
        return Between(self.low - other.high, self.high - other.low)

    def times(self, other: Between) -> Between:
        """The product of two numbers, neither of them below 0 but for rounding."""
        low = max(self.low, 0) * max(other.low, 0)
        high = max(self.high, 0) * max(other.high, 0)
        return Between(low >> BITS, -(-high >> BITS))

    def bounds(self) -> tuple[Fraction, Fraction]:
        return Fraction(self.low, _ONE), Fraction(self.high, _ONE)

    def nearest(self) -> float:
        """The middle as a float."""
        return float(Fraction(self.low + self.high, 2 * _ONE))

    def error(self) -> float:
        """How far the number can be from `nearest`, before that is rounded to a float."""
        return float(Fraction(self.high - self.low, 2 * _ONE))


NOUGHT = Between(0, 0)
ONE = Between(_ONE, _ONE)


def between(value: Fraction | float | int) -> Between:
    """The closest pair around a number, which is taken as it is: a float is a binary fraction."""
    exact = Fraction(value) * _ONE
    low = exact.numerator // exact.denominator
    return Between(low, low if low == exact else low + 1)


def ratio(above: Between, below: Between) -> float | None:
    """The quotient as a float, or None when the divisor may be 0."""
    if below.low <= 0:
        return None
    return float(Fraction(above.low + above.high, below.low + below.high))
