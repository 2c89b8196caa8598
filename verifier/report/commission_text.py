"""A test procedure as a sheet: for people, and as CSV that can be filled in and read back."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterator

from verifier.report.commission import Look, Procedure, SheetStep

WIDTH = 78
COLUMNS = ("step", "do", "line of a run", "look at", "must show", "said so", "result", "reveals")
LISTEN = (
    "One thing at a time: keep it so, and wait until nothing moves any more. Then listen, at every "
    "step: no air may blow out anywhere but where a line says so. Then look. Stop at the first "
    "thing that is not as it should be, and go no further before it is explained."
)
LISTENING = "no air blowing out anywhere"


def procedure_text(found: Procedure, *, reveals: bool) -> str:
    """reveals: name the faults that each step reveals."""
    return "\n".join(_lines(found, reveals)) + "\n"


def _wrap(text: str, indent: str = "", hanging: str = "") -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + hanging,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _lines(found: Procedure, reveals: bool) -> Iterator[str]:
    title = f"{found.design}: {found.title}" if found.title else found.design
    revision = f", revision {found.revision}" if found.revision else ""
    yield from _wrap(f"{title}{revision}")
    yield from _wrap(found.file, "  ")
    yield ""
    yield from _wrap(LISTEN)
    yield ""
    for step in found.steps:
        yield from _wrap(f"{step.number:>3}  {step.does}", "", "     ")
        for look in looks_told(step):
            yield from _wrap(f"[ ] {look.at}: {look.shows}", " " * 5, "    ")
        if reveals:
            names = [name for look in step.looks for name in look.reveals]
            if names:
                yield from _wrap(f"reveals {', '.join(names)}", " " * 9, "  ")
    yield ""
    for paragraph in summary(found):
        yield from _wrap(paragraph, "", "  ")


def looks_told(step: SheetStep) -> list[Look]:
    """Without listening, which goes without saying."""
    return [look for look in step.looks if look.saw != LISTENING]


def summary(found: Procedure) -> Iterator[str]:
    """What the procedure is worth, a paragraph each."""
    looks = sum(len(looks_told(step)) for step in found.steps)
    least = "are the fewest that are enough" if found.exact else "were chosen greedily"
    yield (
        f"{len(found.steps)} steps, {looks} looks. The trials made, and the looks, {least}, among "
        f"those that were tried out on a sound trailer. A greedy choice takes {found.greedy[0]} "
        f"steps and reveals {found.greedy[1]}; working every control once takes "
        f"{found.every_valve[0]} and reveals {found.every_valve[1]}."
    )
    yield (
        f"Sure to be revealed, whatever moves first: {found.revealed} of {found.faults} single "
        f"faults, there from the beginning"
        + (
            f", and {found.revealed_wrong} of {found.wrong} wrong connections."
            if found.wrong
            else "."
        )
    )
    for why, words in (
        ("never", "No procedure is sure to reveal these, which is proved"),
        ("hides", "These can get through this procedure; a run of each was replayed"),
        ("open", "Not sure to be revealed here; whether they can get through is not known"),
    ):
        names = [one.fault for one in found.unrevealed if one.why == why]
        if names:
            yield f"{words} ({len(names)}): {', '.join(names)}."
    yield from _dangers(found)
    if found.restless:
        yield (
            "With these faults it may never come to rest, and may show anything of what it goes "
            f"through then: {', '.join(found.restless)}."
        )
    if found.not_tried:
        yield f"Not considered: {', '.join(found.not_tried)}."


def _dangers(found: Procedure) -> Iterator[str]:
    if not found.hazards:
        yield "Nothing was said that must not be while one tests (--hazard)."
        return
    names = ", ".join(f'"{name}"' for name in found.hazards)
    if not found.dangers:
        yield (
            f"While one tests, no single one of the faults that no step before has revealed brings "
            f"about what must not be at rest ({names}); that is proved."
        )
        return
    told = "; ".join(f"{one.fault} at step {one.step}" for one in found.dangers)
    yield (
        f"CAUTION. With these faults a step may bring about what must not be ({names}), before "
        f"the sheet has revealed them: {told}. Test without product, or look at the part first. "
        "No other one of the faults considered can do that at rest, which is proved."
    )


def procedure_csv(found: Procedure) -> str:
    """One row for each look; `result` is to be filled in: `ok`, `no`, or what was seen instead."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(COLUMNS)
    for step in found.steps:
        did = "; ".join(step.did)
        looks = step.looks or (Look("", "", "", ()),)
        for look in looks:
            row = (step.number, step.does, did, look.at, look.shows, look.saw, "")
            table.writerow((*row, " + ".join(look.reveals)))
    return text.getvalue()
