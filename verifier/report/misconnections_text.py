"""What comes of wrong connections, for people."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.report.misconnections import (
    Judgement,
    Misconnections,
    WrongConnectionTold,
    counted,
    harm,
)
from verifier.report.story import story_lines
from verifier.report.text import wrapped

HARMLESS = "harmless, which is proved"
MEANING = {
    "breaks a rule": "a never, always or order that held is broken",
    "does not recover": "a procedure no longer leads where it should",
    "does not work": "something cannot be done any more",
    "makes a rule empty": "what a property speaks of cannot happen any more",
    "undecided": "the search gave up",
    "harmless": "all that held still holds, which is proved",
}


def consequence(judgement: Judgement) -> str:
    """`breaks "the stop shuts every valve", for i = 1, in 2 steps`."""
    if judgement.outcome == "harmless":
        return HARMLESS
    if judgement.outcome == "undecided":
        return f"undecided: {judgement.reason}"
    where = f" for {judgement.label}" if judgement.label else ""
    name = f'"{judgement.property}"{where}'
    word = harm(judgement)
    if word == "breaks a rule":
        steps = f"in {judgement.steps} step{'' if judgement.steps == 1 else 's'}"
        return f"breaks {name}, {steps}"
    return f"{word}: {name}"


def misconnections_text(told: Misconnections, *, stories: bool) -> str:
    """Worst first, those of one consequence together. Ends in a newline."""
    lines = [*_heading(told), ""]
    last = ""
    for one in told.told:
        word = harm(one.judgement)
        if word != last:
            lines += [f"{word[:1].upper()}{word[1:]} ({MEANING[word]}):"]
            last = word
        lines += _one(one, stories=stories)
    lines += ["", *_closing(told)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _heading(told: Misconnections) -> list[str]:
    where = f" at {', '.join(told.parts)}" if told.parts else ""
    alike = told.known - told.judged
    also = f", {alike} of them by symmetry" if alike else ""
    words = (
        f"Wrong connections{where}, worst first: {told.swaps} swaps of two ports of one part, "
        f"{told.left_off} tubes left off; {told.known} of {told.swaps + told.left_off} are known"
        f"{also}."
    )
    return wrapped(words, "")


def _one(one: WrongConnectionTold, *, stories: bool) -> Iterator[str]:
    words = f"{'; '.join(one.told)}: {consequence(one.judgement)}"
    yield from wrapped(f"{words}{revealed(one)}", "  ", "    ")
    judgement = one.judgement
    if stories and judgement.reason and judgement.outcome == "broken":
        yield from wrapped(judgement.reason, "      ")
    if stories and judgement.story is not None:
        if len(one.members) > 1:
            yield from wrapped(f"As for {one.words}:", "      ")
        yield from story_lines(judgement.story, wrapped, procedure=False)
        yield ""


def revealed(one: WrongConnectionTold) -> str:
    """Which step of a test sheet shows it, in the order of members; "" where there is none."""
    told = dict.fromkeys(member.reveals for member in one.members if member.reveals)
    return f"; {'; '.join(told)}" if told else ""


def _closing(told: Misconnections) -> Iterator[str]:
    counts = counted(told.told)
    listed = ", ".join(f"{count} {_counted(word, count)}" for word, count in counts.items())
    yield from wrapped(f"Of {told.known} wrong connections: {listed or 'none'}.", "", "  ")
    if told.not_held:
        named = "; ".join(f'"{name}"' for name in told.not_held)
        words = f"Not looked at, since it does not hold without any mistake: {named}."
        yield from wrapped(words, "", "  ")
    if told.interrupted:
        yield from wrapped("Interrupted: the others are not known.", "")


def _counted(word: str, count: int) -> str:
    """`1 breaks a rule`, `2 break a rule`."""
    if count == 1:
        return word
    plural = {
        "breaks a rule": "break a rule",
        "does not recover": "do not recover",
        "does not work": "do not work",
        "makes a rule empty": "make a rule empty",
    }
    return plural.get(word, word)
