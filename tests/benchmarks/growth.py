"""How times grow with size: the exponent of the power law that fits best."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from tests.benchmarks.plan import Row


def exponent(points: Sequence[tuple[float, float]]) -> float | None:
    """Slope of log(time) over log(size) by least squares; None for fewer than two sizes."""
    logs = [(math.log(size), math.log(time)) for size, time in points if size > 0 and time > 0]
    if len({x for x, _ in logs}) < 2:
        return None
    middle_x = sum(x for x, _ in logs) / len(logs)
    middle_y = sum(y for _, y in logs) / len(logs)
    spread = sum((x - middle_x) ** 2 for x, _ in logs)
    return sum((x - middle_x) * (y - middle_y) for x, y in logs) / spread


def growth(rows: Sequence[Row]) -> dict[tuple[str, bool], tuple[float | None, float | None]]:
    """By family and sort: exponents over the number of parts of our search with its check, and of
    the whole command, in CPU seconds."""
    found = {}
    for key in dict.fromkeys((row.member.family, row.member.flawed) for row in rows):
        own = [row for row in rows if (row.member.family, row.member.flawed) == key]
        found[key] = (
            exponent(_points(own, lambda row: row.ours.cost if row.ours.decided else 0.0)),
            exponent(_points(own, lambda row: row.whole.whole if row.whole.decided else 0.0)),
        )
    return found


def _points(rows: Sequence[Row], time: Callable[[Row], float]) -> list[tuple[float, float]]:
    return [(float(row.ours.sizes[0]), time(row)) for row in rows if row.ours.sizes[0]]
