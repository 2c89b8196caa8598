"""The page of a change: both circuits drawn as one, what differs marked, and the verdicts."""

from __future__ import annotations

from msgspec import Struct

from verifier.changes.circuits import compared
from verifier.changes.union import Union, union
from verifier.drawing.marks import Marks
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.normal import normal_digest
from verifier.pages.design import versions
from verifier.pages.drawn import Drawn
from verifier.pages.playing import Drawing, playing
from verifier.pages.render import data, page
from verifier.pages.tale import Tale, Teller
from verifier.report.compared import parts_of
from verifier.report.comparison import Comparison, Outcome, Version
from verifier.report.families import families
from verifier.studies.keeping import Kept

OUTCOMES: dict[Outcome, str] = {
    "plumbing only": "Plumbing only: every promise and every verdict is as it was, and so is all "
    "that can be seen at rest.",
    "no loss": "No loss: no promise and no verdict is worse than it was.",
    "worse": "Something is worse than it was.",
    "undecided": "Undecided: something is open.",
}

MINUS = "\N{MINUS SIGN}"


class Side(Struct, frozen=True):
    """One of both designs."""

    which: str
    version: Version
    digest: str
    drawn: Drawn


class Entry(Struct, frozen=True):
    """mark: "!" for a loss, "?" for what is open, "" else."""

    mark: str
    words: str


class Part(Struct, frozen=True):
    heading: str
    entries: tuple[Entry, ...]


def change_page(old: Loaded, new: Loaded, told: Comparison, kept: Kept, *, date: str = "") -> bytes:
    """The page in UTF-8. told: a comparison that was made.   kept: what was told while it was.

    Raises ValueError for a comparison of designs that were refused.
    """
    if told.old is None or told.new is None or told.outcome is None:
        raise ValueError("a design was refused, so there is nothing to compare")
    both = union(compared(old.circuit, new.circuit)[0])
    sides = (
        Side("old", told.old, normal_digest(old.circuit), Drawn(old.circuit, "old")),
        Side("new", told.new, normal_digest(new.circuit), Drawn(new.circuit, "new")),
    )
    apart = None if told.behaviour is None else told.behaviour.apart
    olds, news = Teller(kept.stories.get, "old"), Teller(kept.stories.get, "new")
    broken = [
        news.of_story(one.story, f'"{one.name}" is broken now', bad=True)
        for one in told.verdicts
        if one.story is not None
    ]
    tracks: list[tuple[Side, Tale]] = []
    if apart is not None:
        tracks = [
            (sides[0], olds.of_story(apart.old, "The old design")),
            (sides[1], news.of_story(apart.new, "The new design")),
        ]
    return page(
        "change.html",
        title=f"{told.old.design} → {told.new.design}: {told.outcome}",
        told=told,
        outcome=OUTCOMES[told.outcome],
        sides=sides,
        date=date,
        versions=versions(),
        drawn=sides[1].drawn,
        both=_both(both),
        counts=_counts(both),
        parts_told=[_part(heading, entries) for heading, entries in parts_of(told)],
        broken=broken,
        tracks=tracks,
        shown="; ".join(families(apart.shown)) if apart is not None else "",
        playing=data(playing(_drawings(old.circuit, new.circuit, olds, news))),
    )


def _drawings(old: Circuit, new: Circuit, olds: Teller, news: Teller) -> list[Drawing]:
    return [Drawing("old", old, olds.tales), Drawing("new", new, news.tales)]


def _part(heading: str, entries: list[str]) -> Part:
    return Part(
        heading.rstrip(":"),
        tuple(Entry(entry[:1].strip(), entry[2:].strip().replace("`", "")) for entry in entries),
    )


def _both(both: Union) -> str:
    marks = Marks(
        added=both.added,
        removed=both.removed,
        added_lines=both.added_lines,
        removed_lines=both.removed_lines,
    )
    return Drawn(both.circuit, "both", both.also).marked(marks)


def _counts(both: Union) -> str:
    """What the drawing marks, in words."""
    circuit = both.circuit
    told = [
        ("+ part", [circuit.parts[k].name for k in both.added]),
        (f"{MINUS} part", [circuit.parts[k].name for k in both.removed]),
        ("+ piece of line", [circuit.volumes[k].name for k in both.added_lines]),
        (f"{MINUS} piece of line", [circuit.volumes[k].name for k in both.removed_lines]),
    ]
    found = [f"{what} {', '.join(names)}" for what, names in told if names]
    return "; ".join(found) or "nothing in the circuit is drawn otherwise"
