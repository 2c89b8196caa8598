"""Units that designs may use, each with its dimension and its exact size in the base unit."""

from __future__ import annotations

from fractions import Fraction

from verifier.model.circuit import Quantity
from verifier.model.mistakes import Mistakes, did_you_mean
from verifier.syntax import tree

UNITS: dict[str, tuple[str, Fraction]] = {
    "s": ("time", Fraction(1)),
    "ms": ("time", Fraction(1, 1000)),
    "min": ("time", Fraction(60)),
    "h": ("time", Fraction(3600)),
    "Pa": ("pressure", Fraction(1)),
    "mbar": ("pressure", Fraction(100)),
    "kPa": ("pressure", Fraction(1000)),
    "bar": ("pressure", Fraction(100_000)),
    "MPa": ("pressure", Fraction(1_000_000)),
    "mm": ("length", Fraction(1, 1000)),
    "cm": ("length", Fraction(1, 100)),
    "m": ("length", Fraction(1)),
    "mL": ("volume", Fraction(1, 1_000_000)),
    "L": ("volume", Fraction(1, 1000)),
    "m3": ("volume", Fraction(1)),
    "degC": ("temperature", Fraction(1)),
}


def in_base_unit(quantity: Quantity) -> Fraction:
    """The exact size in seconds, pascals, metres, cubic metres or degrees Celsius."""
    return quantity.value * UNITS[quantity.unit][1]


def quantity(measure: tree.Measure, mistakes: Mistakes, dimension: str = "") -> Quantity | None:
    """The measure as a quantity; tells an unknown unit, or one that is not of `dimension`."""
    known = UNITS.get(measure.unit)
    if known is None:
        listed = ", ".join(u for u, (of, _) in UNITS.items() if not dimension or of == dimension)
        hint = did_you_mean(measure.unit, UNITS) or f"known units: {listed}"
        mistakes.add("E0506", measure.span, f"unknown unit `{measure.unit}`", hint=hint)
        return None
    if dimension and known[0] != dimension:
        listed = ", ".join(unit for unit, (of, _) in UNITS.items() if of == dimension)
        mistakes.add(
            "E0507",
            measure.span,
            f"`{measure.unit}` is a unit of {known[0]}, but a {dimension} belongs here",
            hint=f"units of {dimension}: {listed}",
        )
        return None
    if dimension and measure.number <= 0:
        mistakes.add("E0508", measure.span, f"a {dimension} must be more than 0")
        return None
    number = measure.number
    return Quantity(number.numerator, number.denominator, measure.unit)
