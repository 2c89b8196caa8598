"""The pages of a library of designs: an index to search in, and a page for each design."""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterator
from urllib.parse import quote

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.normal import normal_digest
from verifier.pages.design import versions
from verifier.pages.drawn import Drawn
from verifier.pages.render import page
from verifier.pages.verdicts import SIGNS
from verifier.report.library import EXPLAINED, Examined, LibraryResult, Status
from verifier.report.result import InstanceResult, PropertyResult, Story
from verifier.report.story import heading, labels_of
from verifier.report.text import also_told, members_told, scope_of

INDEX = "index.html"
FOLDER = "designs"
STANDS: dict[Status, str] = {
    "approved": "✓",
    "changed": "≠",
    "not certified": "!",
    "unapproved": "○",
    "tampered": "!",
    "missing": "∅",
    "invalid": "✗",
    "failed": "?",
}

Read = Callable[[str], Circuit | None]
"""The circuit of a design by its path as told; None if it cannot be read."""


class Row(Struct, frozen=True):
    """wrong: what does not hold, by name.   search: all that is searched in, in small letters."""

    one: Examined
    title: str
    link: str
    sign: str
    verdict_sign: str
    wrong: tuple[str, ...]
    search: str


class Told(Struct, frozen=True):
    """A case and its story as text."""

    member: InstanceResult
    heading: str
    lines: tuple[tuple[str, str, str, str], ...]
    story: Story | None


class Wrong(Struct, frozen=True):
    item: PropertyResult
    scope: str
    sign: str
    told: tuple[Told, ...]
    also: tuple[str, ...]


def shelf_pages(
    result: LibraryResult, read: Read, *, date: str = ""
) -> Iterator[tuple[str, bytes]]:
    """Paths below the folder of pages and contents, the index last."""
    rows = []
    for one in result.designs:
        circuit = read(one.file)
        rows.append(_row(one, circuit))
        yield page_of(one.file), _design(one, circuit)
    counts = [
        (status, STANDS[status], sum(row.one.status == status for row in rows), words)
        for status, words in EXPLAINED.items()
    ]
    yield (
        INDEX,
        page(
            "shelf.html",
            title=f"{result.folder}: {len(rows)} designs",
            result=result,
            rows=rows,
            counts=[one for one in counts if one[2]],
            date=date,
            versions=versions(),
        ),
    )


def page_of(file: str) -> str:
    """The path of a design's page, from the folder of the index."""
    return posixpath.join(FOLDER, f"{file}.html")


def _row(one: Examined, circuit: Circuit | None) -> Row:
    title = "" if circuit is None else circuit.title
    name = "" if circuit is None else circuit.name
    wrong = tuple(f"{item.name} ({item.verdict})" for item in one.properties)
    told = (one.file, name, title, one.status, one.verdict or "", one.by, one.date, one.reason)
    return Row(
        one=one,
        title=title,
        link=quote(page_of(one.file)),
        sign=STANDS[one.status],
        verdict_sign="" if one.verdict is None else SIGNS[one.verdict],
        wrong=wrong,
        search=" ".join((*told, *wrong)).lower(),
    )


def _design(one: Examined, circuit: Circuit | None) -> bytes:
    up = "../" * (one.file.count("/") + 1)
    return page(
        "shelved.html",
        title=f"{one.file}: {one.status}",
        one=one,
        circuit=circuit,
        digest="" if circuit is None else normal_digest(circuit),
        drawn=None if circuit is None else Drawn(circuit, "main"),
        sign=STANDS[one.status],
        explained=EXPLAINED[one.status],
        verdict_sign="" if one.verdict is None else SIGNS[one.verdict],
        wrong=[_wrong(item) for item in one.properties],
        up=f"{up}{INDEX}",
        versions=versions(),
    )


def _wrong(item: PropertyResult) -> Wrong:
    told, others = members_told(item)
    scope = "asked of every design" if item.free else f"{item.form}{scope_of(item)}"
    return Wrong(
        item,
        scope,
        SIGNS[item.verdict],
        tuple(_told(item, member) for member in told),
        tuple(also_told(item, others)),
    )


def _told(item: PropertyResult, member: InstanceResult) -> Told:
    story = member.story
    if story is None:
        return Told(member, "", (), None)
    labels = labels_of(story.events)
    lines = tuple(
        (label, event.by, event.words, event.cause)
        for label, event in zip(labels, story.events, strict=True)
    )
    return Told(member, heading(story, item.form == "possible"), lines, story)
