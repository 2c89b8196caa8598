"""A race told side by side: what both ways share once, then the one beside the other."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from itertools import zip_longest

from verifier.report.result import Race, Way
from verifier.report.story import Wrap, ending_lines, event_lines

INDENT = " " * 6
GAP = 3
WIDTH = (80 - len(INDENT) - GAP) // 2


def race_lines(race: Race, wrap: Wrap) -> Iterator[str]:
    """What happens up to where the ways part, then both in columns, then what decides."""
    if race.shared:
        kind = "The shortest way to a parting" if race.shortest else "A way to a parting"
        at_once = len({event.step for event in race.shared}) < len(race.shared)
        note = " (what shares a number happens at once)" if at_once else ""
        yield from wrap(f"{kind}, from the start{note}:", INDENT)
        yield from event_lines(race.shared, wrap, INDENT)
    else:
        yield from wrap("As everything stands at the start, before anything happens:", INDENT)
    yield from wrap("From here hands and surroundings stand still. Two ways go on:", INDENT)
    for left, right in zip_longest(_column(race.first), _column(race.second), fillvalue=""):
        yield f"{INDENT}{left:<{WIDTH}} | {right}"
    yield from wrap(race.outcome, INDENT)


def _column(way: Way) -> list[str]:
    lines = _narrow(f"{way.words[:1].upper()}{way.words[1:]}:", "")
    lines += event_lines(way.events, _narrow, "")
    lines += ending_lines(way.end, _narrow, "")
    return lines


def _narrow(text: str, indent: str, hanging: str = "") -> list[str]:
    """As in the report, but for one column; a name longer than it is broken."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + hanging,
        break_on_hyphens=False,
    ) or [indent.rstrip()]
