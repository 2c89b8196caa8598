"""A run told the way a fitter would tell it: numbered events, only what changed, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Protocol

from verifier.report.result import Ending, Event, Story


class Wrap(Protocol):
    """Breaks a text into lines: `indent` before the first, `hanging` more before the others."""

    def __call__(self, text: str, indent: str, hanging: str = "") -> list[str]: ...


def story_lines(story: Story, wrap: Wrap, *, procedure: bool) -> Iterator[str]:
    """The events one by one, the state at the end, and the outcome.

    procedure: it is the witness of a *possible* and reads as an operating procedure.
    """
    if not story.events:
        yield from wrap("As everything stands at the start, before anything happens.", " " * 6)
    else:
        yield from wrap(heading(story, procedure), " " * 6)
    marks = {}
    if story.procedure_from is not None:
        marks[story.procedure_from] = "Now the procedure begins:"
    if story.loop_from is not None:
        marks[story.loop_from] = (
            "From here on it goes round, hands and surroundings standing still:"
        )
    yield from event_lines(story.events, wrap, " " * 6, marks)
    if story.loop_from is not None:
        again = story.loop_from + 1
        yield from wrap(f"... and again from step {again}, and so on for ever.", " " * 6)
    yield from ending_lines(story.end, wrap, " " * 6)
    yield from wrap(story.outcome, " " * 6)


def event_lines(
    events: tuple[Event, ...], wrap: Wrap, margin: str, marks: Mapping[int, str] | None = None
) -> Iterator[str]:
    """The events, numbered by their steps; what a moment has several of is lettered. marks: what is
    said when so many steps are over."""
    marked = labels_of(events)
    width = max((len(label) for label in marked), default=0)
    for label, event in zip(marked, events, strict=True):
        mark = (marks or {}).get(event.step - 1)
        if mark and label.rstrip("a") == str(event.step):
            yield from wrap(mark, margin)
        indent = margin + f"{label:>{width}}  "
        hang = " " * len(indent)
        lines = wrap(_sentence(event), hang)
        yield indent + lines[0].lstrip()
        yield from lines[1:]
        yield from _air(event, wrap, hang)


def heading(story: Story, procedure: bool) -> str:
    """What kind of way it is."""
    if procedure:
        kind = "Procedure"
    else:
        kind = "The shortest way there" if story.shortest else "A way there"
    together = len({event.step for event in story.events}) < len(story.events)
    note = " (what shares a number happens at once)" if together else ""
    return f"{kind}, from the start{note}:"


def labels_of(events: tuple[Event, ...]) -> list[str]:
    """`3`, or `3a`, `3b` … for events of one moment."""
    steps = [event.step for event in events]
    labels = []
    for place, step in enumerate(steps):
        if steps.count(step) == 1:
            labels.append(str(step))
        else:
            labels.append(f"{step}{_letter(place - steps.index(step))}")
    return labels


def _letter(place: int) -> str:
    """a, b, … z, aa, ab …"""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


def _sentence(event: Event) -> str:
    return f"{event.words}: {event.cause}." if event.cause else f"{event.words}."


def _air(event: Event, wrap: Wrap, indent: str) -> Iterator[str]:
    for words, lines in (
        ("air now in", event.gained),
        ("no more air in", event.lost),
        ("in-between pressure in", event.between),
    ):
        if lines:
            yield from wrap(f"{words}: {', '.join(lines)}", indent + "  ", "  ")


def ending_lines(end: Ending, wrap: Wrap, margin: str, when: str = "In the end") -> Iterator[str]:
    """What stands elsewhere than at the start, and which lines have air."""
    told = list(standing_lines(end, wrap, margin + "  "))
    rest = "at rest" if end.at_rest else "still moving"
    yield from wrap(f"{when}, {rest}{':' if told else '.'}", margin)
    yield from told


def standing_lines(end: Ending, wrap: Wrap, margin: str) -> Iterator[str]:
    """The same without a heading."""
    for words, things in (
        ("moved", tuple(f"{one.name} {one.value}" for one in end.moved)),
        ("with air", end.high),
        ("at an in-between pressure", end.between),
        ("cut off with air inside", end.kept),
    ):
        if things:
            yield from wrap(f"{words}: {', '.join(things)}", margin, "  ")
