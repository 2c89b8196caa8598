"""Durations as arguments: a number and a unit."""

from __future__ import annotations

import re

import click

from verifier.diagnostics.suggest import did_you_mean

HOURS = {
    "hour": 1.0,
    "day": 24.0,
    "week": 168.0,
    "month": 730.0,
    "year": 8760.0,
}
"""A year has 8760 hours, as in ISO 13849-1; a month is a twelfth of it."""

_SHORT = {"h": "hour", "d": "day"}


def hours(ctx: click.Context, param: click.Parameter, value: str | None) -> float | None:
    """For options whose values are like `20 years` or `8760 h`."""
    if value is None:
        return None
    found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*(\S*)\s*", value)
    if found is None:
        said = f"`{value}` is no duration; say it like `20 years` or `8760 h`"
        raise click.BadParameter(said, ctx, param)
    number, unit = float(found[1]), found[2]
    factor = HOURS.get(_SHORT.get(unit, unit.removesuffix("s")))
    if factor is None:
        raise click.BadParameter(_unknown(value, unit), ctx, param)
    if not number:
        raise click.BadParameter("a duration must be more than 0", ctx, param)
    return number * factor


def _unknown(value: str, unit: str) -> str:
    units = [f"{one}s" for one in HOURS]
    known = f"known are {', '.join([*units, *_SHORT])}"
    if not unit:
        return f"`{value}` has no unit; {known}"
    return f"unknown unit `{unit}`; {did_you_mean(unit, units) or known}"
