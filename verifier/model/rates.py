"""How often a fault happens, as designs say it: failures in a time, or wear by cycles."""

from __future__ import annotations

from fractions import Fraction

from verifier.diagnostics.span import Span
from verifier.model.circuit import Rate
from verifier.model.mistakes import Mistakes, did_you_mean
from verifier.model.units import UNITS
from verifier.syntax import tree

HOURS_A_YEAR = 8760
# Failures in time: in 10^9 hours.
FIT = "FIT"
CYCLES = "cycles"
_TIMES = {"year": Fraction(HOURS_A_YEAR * 3600)} | {
    unit: size for unit, (dimension, size) in UNITS.items() if dimension == "time"
}
_HINT = (
    "write for example `0.000002 per h`, `2000 FIT` or `B10d 20000000 cycles, 5000 cycles per year`"
)


def rate_of(statement: tree.RateStatement, mistakes: Mistakes) -> Rate | None:
    """The rate; None after telling a unit that it is not told in, or that it is nothing."""
    figure, source = statement.figure, statement.source
    if isinstance(figure, tree.WornOut):
        cycles = _count(figure.cycles.number, figure.cycles.unit, figure.cycles.span, mistakes)
        yearly = _count(figure.yearly.number, figure.counted, figure.yearly.span, mistakes)
        hours = _hours(figure.yearly, mistakes)
        if cycles is None or yearly is None or hours is None:
            return None
        return Rate(None, float(cycles), float(yearly / hours * HOURS_A_YEAR), source)
    if isinstance(figure, tree.Measure):
        if figure.unit != FIT:
            hint = did_you_mean(figure.unit, (FIT,)) or _HINT
            message = f"`{figure.unit}` is no unit of a rate"
            mistakes.add("E0904", figure.span, message, hint=hint)
            return None
        per_hour: Fraction | None = figure.number / 10**9
    else:
        hours = _hours(figure, mistakes)
        per_hour = None if hours is None else figure.number / hours
    if per_hour is None or _nothing(figure.number, figure.span, mistakes):
        return None
    return Rate(float(per_hour), None, None, source)


def _hours(figure: tree.PerTime, mistakes: Mistakes) -> Fraction | None:
    """How many hours its unit of time has."""
    if figure.unit in _TIMES:
        return _TIMES[figure.unit] / 3600
    hint = did_you_mean(figure.unit, _TIMES) or f"units of time: {', '.join(_TIMES)}"
    mistakes.add("E0904", figure.span, f"`{figure.unit}` is no unit of time", hint=hint)
    return None


def _count(number: Fraction, unit: str, span: Span, mistakes: Mistakes) -> Fraction | None:
    if unit != CYCLES:
        hint = "B10d and how often a thing is used are told in `cycles`"
        mistakes.add("E0904", span, f"`{unit}` are no cycles", hint=hint)
        return None
    return None if _nothing(number, span, mistakes) else number


def _nothing(number: Fraction, span: Span, mistakes: Mistakes) -> bool:
    if number > 0:
        return False
    message = "a rate is more than 0"
    hint = "what never happens is excluded: `exclude fault … because … source …`"
    mistakes.add("E0908", span, message, hint=hint)
    return True
