"""What explains what was done and seen, as data and for people."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from verifier.report.result import Story
from verifier.report.story import story_lines

WIDTH = 78
Kind = Literal["as designed", "input", "faults"]


class Explanation(Struct, frozen=True):
    """kind: nothing unusual; something that nobody mentioned was worked; faults.   causes: names
    of the faults, or what may have been worked.   words: in words.   rate: how often an hour, None
    if the design does not say.   story: a run that shows what was seen, replayed; None if none was
    found, and then that it can be is not known."""

    kind: Kind
    causes: tuple[str, ...]
    words: str
    thing: str
    rate: float | None = None
    story: Story | None = None


class Outcome(Struct, frozen=True):
    """What a test may show, and which explanations (numbers, from 1) it leaves."""

    shows: str
    leaves: tuple[int, ...]


class Advice(Struct, frozen=True):
    """A test. does: what is done first, perhaps nothing; then one looks. rules_out: so many
    explanations at least, whatever comes of it."""

    does: tuple[str, ...]
    look: str
    outcomes: tuple[Outcome, ...]
    rules_out: int
    most: int
    again: bool = False


class Alike(Struct, frozen=True):
    """Explanations that nothing tells apart which can be looked at after up to `reach` things done
    one after the other. Whether more would is not known."""

    explanations: tuple[int, ...]
    reach: int


class Diagnosis(Struct, frozen=True):
    """happened: what was done and seen, and is taken for granted.   considered: so many single
    faults; order: up to so many at once.   hardest: if there is no explanation, what is hardest to
    explain, with how many explain all the rest (left); or, if none does, how many explain what was
    done and seen before it (before).
    """

    design: str
    file: str
    happened: tuple[str, ...]
    taken: tuple[str, ...]
    considered: int
    order: int
    explanations: tuple[Explanation, ...]
    undecided: tuple[str, ...] = ()
    next: Advice | None = None
    alike: tuple[Alike, ...] = ()
    hardest: str = ""
    hardest_left: int = 0
    hardest_before: int = 0
    format: Literal["shutproof diagnosis"] = "shutproof diagnosis"
    version: Literal[1] = 1


class DiagnosisResult(Struct, frozen=True):
    diagnosis: Diagnosis
    cautions: tuple[str, ...]


def diagnosis_text(found: Diagnosis, *, stories: bool, first: bool = True) -> str:
    """For people. stories: of every explanation, else of the first (if wanted)."""
    return "\n".join(_lines(found, stories, first)) + "\n"


def story_text(one: Explanation) -> str:
    """The story of one explanation."""
    if one.story is None:
        return f"{one.words}: there is no story of it"
    return "\n".join([one.words, *story_lines(one.story, _wrap, procedure=False)])


def _wrap(text: str, indent: str, hanging: str = "") -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + hanging,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _lines(found: Diagnosis, stories: bool, one_story: bool) -> Iterator[str]:
    yield from _wrap(f"{found.design}: {found.file}", "")
    if found.taken:
        yield from _wrap(f"taken for granted: {'; '.join(found.taken)}", "  ", "  ")
    for words in found.happened:
        yield from _wrap(words, "  ", "  ")
    yield ""
    yield from _verdict(found)
    kind = ""
    for numbers in _grouped(found):
        first = found.explanations[numbers[0] - 1]
        if first.kind != kind:
            kind = first.kind
            yield ""
            yield from _wrap(_heading(first, found), "")
        label = spans(numbers)
        told = _told([found.explanations[number - 1] for number in numbers])
        yield from _wrap(f"{label:>9}  {told}", "", " " * 11)
        for number in numbers:
            story = found.explanations[number - 1].story
            if story is not None and (stories or (one_story and number == 1)):
                yield from story_lines(story, _wrap, procedure=False)
    if found.undecided:
        yield ""
        told = ", ".join(found.undecided)
        yield from _wrap(f"not ruled out, but no run was found that shows it: {told}", "", "  ")
    yield from _what_next(found)


def _verdict(found: Diagnosis) -> Iterator[str]:
    kinds = {one.kind for one in found.explanations}
    faults = sum(one.kind == "faults" for one in found.explanations)
    if "as designed" in kinds:
        yield from _wrap("This is what the design does; nothing need have failed.", "")
    elif "input" in kinds:
        yield from _wrap(
            "Working as designed explains it, if somebody did what was not mentioned. Look at that "
            "before any part is blamed.",
            "",
        )
    elif faults:
        yield from _wrap(
            "The design does not do this by itself, whatever was worked that was not mentioned.", ""
        )
    if not found.explanations and not found.undecided:
        many = f"any {found.order} or fewer of the" if found.order > 1 else "any one of the"
        yield from _wrap(
            f"Nothing explains it: not the design, and not {many} {found.considered} faults and "
            "wrong connections considered, there from the beginning.",
            "",
        )
        if found.hardest and not found.hardest_left:
            yield from _wrap(
                f"What comes before this is explained in {found.hardest_before} "
                f"{'way' if found.hardest_before == 1 else 'ways'}: {found.hardest}. No single "
                "observation stands in the way of all the others.",
                "",
            )
        elif found.hardest:
            yield from _wrap(
                f"Hardest to explain: {found.hardest}. Without it {found.hardest_left} "
                f"{'explanation' if found.hardest_left == 1 else 'explanations'} would be left.",
                "",
            )


def _heading(one: Explanation, found: Diagnosis) -> str:
    if one.kind == "as designed":
        return "As designed:"
    if one.kind == "input":
        return "As designed, if"
    count = found.considered
    return f"If something has failed, or is connected wrongly ({count} single ones considered):"


def _grouped(found: Diagnosis) -> Iterator[tuple[int, ...]]:
    """Numbers of explanations, neighbours of one part or tube together."""
    group: list[int] = []
    for number, one in enumerate(found.explanations, 1):
        before = found.explanations[group[-1] - 1] if group else None
        if before is not None and not (one.thing and one.thing == before.thing):
            yield tuple(group)
            group = []
        group.append(number)
    if group:
        yield tuple(group)


def _told(group: Sequence[Explanation]) -> str:
    """`master: stuck (does not switch); body_bursts (the body bursts)`."""
    thing = group[0].thing
    if not thing or len(group) == 1:
        return f"{group[0].words}{_rate(group[0])}"
    words = (one.words.removeprefix(f"{thing} ") for one in group)
    told = (f"{word}{_rate(one)}" for word, one in zip(words, group, strict=True))
    return f"{thing}: {'; '.join(told)}"


def _rate(one: Explanation) -> str:
    return "" if one.rate is None else f" ({one.rate:.3g} an hour)"


def _what_next(found: Diagnosis) -> Iterator[str]:
    if found.next is not None:
        advice = found.next
        yield ""
        does = f"{', then '.join(advice.does)}, and look: " if advice.does else "look: "
        again = "begin again, without air: " if advice.again else ""
        yield from _wrap(f"Next, {again}{does}{advice.look}", "", "  ")
        for one in advice.outcomes:
            numbers = spans(one.leaves)
            left = f"leaves {numbers}" if one.leaves else "nothing above explains that"
            yield from _wrap(f"{one.shows}: {left}", "  ", "  ")
    for alike in found.alike:
        yield ""
        numbers = spans(alike.explanations)
        times = "one thing" if alike.reach == 1 else f"up to {alike.reach} things"
        told = (
            f"are not told apart by what can be looked at after {times} done; whether by more, is "
            "not known"
        )
        yield from _wrap(f"{numbers} {told}.", "", "  ")


def spans(numbers: tuple[int, ...]) -> str:
    """`1, 3 to 5`."""
    told: list[str] = []
    begin = 0
    for place, number in enumerate(numbers):
        if place + 1 == len(numbers) or numbers[place + 1] != number + 1:
            first = numbers[begin]
            if number == first:
                told.append(str(first))
            else:
                told.append(f"{first} to {number}" if number > first + 1 else f"{first}, {number}")
            begin = place + 1
    return ", ".join(told)
