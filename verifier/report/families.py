"""Many names in few words: `vent[1]`, `vent[2]`, `vent[3]` are `vent[1..3]`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

_INDEX = re.compile(r"(?<=[\[, ])\d+(?=[,\]])")

Fields = tuple[str, ...]


def families(names: Iterable[str]) -> tuple[str, ...]:
    """The names with those drawn together that differ in one index by one, in the order in which
    each family came first. Indices that are the same throughout go together: `load[1] at pick[1]`
    and `load[2] at pick[2]` are `load[1..2] at pick[1..2]`."""
    found: dict[str, list[Fields]] = {}
    for name in names:
        found.setdefault(_INDEX.sub("{}", name), []).append(tuple(_INDEX.findall(name)))
    return tuple(
        pattern.format(*(fields[k] for k in places))
        for pattern, rows in found.items()
        for places, apart in [_apart(rows)]
        for fields in _drawn(apart)
    )


def _apart(rows: Sequence[Fields]) -> tuple[list[int], list[Fields]]:
    """The rows with each of their columns once, and where each column of before is now."""
    columns = list(zip(*rows, strict=True))
    kept = list(dict.fromkeys(columns))
    places = [kept.index(column) for column in columns]
    return places, list(zip(*kept, strict=True)) if kept else list(rows)


def _drawn(rows: Sequence[Fields]) -> list[Fields]:
    """Rows that differ in one field only, the last first, become one row with a range."""
    drawn = list(dict.fromkeys(rows))
    for place in reversed(range(len(rows[0]))):
        groups: dict[tuple[Fields, Fields], list[str]] = {}
        for row in drawn:
            groups.setdefault((row[:place], row[place + 1 :]), []).append(row[place])
        drawn = [
            (*before, run, *after)
            for (before, after), values in groups.items()
            for run in _runs(values)
        ]
    return drawn


def _runs(values: list[str]) -> list[str]:
    """Numbers that follow each other as ranges; what is a range already stays."""
    numbers = sorted(int(value) for value in values if value.isdigit())
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    told = [str(low) if low == high else f"{low}..{high}" for low, high in runs]
    return told + [value for value in values if not value.isdigit()]
