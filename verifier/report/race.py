"""A race told side by side: what both ways share once, then the one beside the other."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from itertools import zip_longest

from msgspec import structs

from verifier.report.result import Ending, Race, Way
from verifier.report.story import Wrap, ending_lines, event_lines, standing_lines

INDENT = " " * 6
GAP = 3
WIDTH = (80 - len(INDENT) - GAP) // 2
DECIDES = {
    "order": "What decides is the order",
    "leak": "What decides is a leak",
    "reading": "What decides is how an in-between pressure is read",
}


def race_lines(race: Race, wrap: Wrap) -> Iterator[str]:
    """Between what it lies, what happens up to where the ways part, both in columns, both ends.

    Why a thing moves is told once where it moves for the same cause on both ways, and so is what
    both ends have in common.
    """
    yield from wrap(
        f"{DECIDES[race.decided_by]}: {race.first.words}, or {race.second.words}.", INDENT
    )
    if race.shared:
        kind = "The shortest way to a parting" if race.shortest else "A way to a parting"
        at_once = len({event.step for event in race.shared}) < len(race.shared)
        note = " (what shares a number happens at once)" if at_once else ""
        yield from wrap(f"{kind}, from the start{note}:", INDENT)
        yield from event_lines(race.shared, wrap, INDENT)
    else:
        yield from wrap("As everything stands at the start, before anything happens:", INDENT)
    yield from wrap(parting_words(race), INDENT)
    known = [(event.words, event.cause) for event in race.first.events]
    ends = race.first.end, race.second.end
    columns = _column(race.first, ends[1], ()), _column(race.second, ends[0], known)
    for left, right in zip_longest(*columns, fillvalue=""):
        yield f"{INDENT}{left:<{WIDTH}} | {right}".rstrip()
    yield from wrap(race.outcome, INDENT)
    yield from ending_lines(_part(*ends, True), wrap, INDENT, "Either way in the end")


def parting_words(race: Race) -> str:
    """Since when hands and surroundings stand still, and where the ways part."""
    events = [event.step for event in race.shared if event.by != "movement"]
    if not events or events[-1] == race.shared_steps:
        return "From here hands and surroundings stand still. Two ways go on:"
    since = f"From step {events[-1]} on hands and surroundings stand still."
    return f"{since} Here two ways go on:"


def _column(way: Way, other: Ending, known: Sequence[tuple[str, str]]) -> list[str]:
    """other: the end of the other way.   known: what is told there, with its causes."""
    lines = _narrow(f"{way.words[:1].upper()}{way.words[1:]}:", "")
    told = tuple(
        structs.replace(event, cause="as on the other way")
        if event.cause and (event.words, event.cause) in known
        else event
        for event in way.events
    )
    lines += event_lines(told, _narrow, "")
    own = list(standing_lines(_part(way.end, other, False), _narrow, "  "))
    return [*lines, "In the end, only here:", *own] if own else lines


def _part(end: Ending, other: Ending, common: bool) -> Ending:
    """What an end has in common with the other, or for itself."""
    return structs.replace(
        end,
        moved=tuple(one for one in end.moved if (one in other.moved) is common),
        high=tuple(one for one in end.high if (one in other.high) is common),
        between=tuple(one for one in end.between if (one in other.between) is common),
        kept=tuple(one for one in end.kept if (one in other.kept) is common),
    )


def _narrow(text: str, indent: str, hanging: str = "") -> list[str]:
    """As in the report, but for one column; a name longer than it is broken."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + hanging,
        break_on_hyphens=False,
    ) or [indent.rstrip()]
