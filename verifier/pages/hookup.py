"""The connection lists as a page that prints on A4."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.pages.render import page
from verifier.report.families import families
from verifier.report.hookup import Hookup, PartConnections, PortConnection
from verifier.report.hookup_text import TO_AIR, mistakes_at
from verifier.report.misconnections import Misconnections, WrongConnectionTold, harm
from verifier.report.misconnections_text import HARMLESS, MEANING, consequence, revealed
from verifier.report.story import story_lines
from verifier.report.text import wrapped


class Mistake(Struct, frozen=True):
    told: str
    harmless: bool


class Row(Struct, frozen=True):
    port: PortConnection
    leads_to: str
    mistakes: tuple[Mistake, ...]


class Sheet(Struct, frozen=True):
    part: PartConnections
    rows: tuple[Row, ...]


class Entry(Struct, frozen=True):
    told: str
    consequence: str
    reason: str
    example: str
    story: str


class Group(Struct, frozen=True):
    word: str
    meaning: str
    entries: tuple[Entry, ...]


def hookup_page(
    hookup: Hookup, cautions: Sequence[str], mistakes: Misconnections | None = None
) -> bytes:
    """UTF-8; the same lists give the same bytes."""
    return page(
        "hookup.html",
        title=f"{hookup.design}: connections",
        hookup=hookup,
        sheets=[_sheet(part, mistakes) for part in hookup.parts],
        groups=_groups(mistakes),
        mistakes=mistakes,
        cautions=cautions,
    )


def _sheet(part: PartConnections, mistakes: Misconnections | None) -> Sheet:
    rows = []
    for port in part.ports:
        leads_to = ", ".join(families(port.others))
        if port.junction:
            leads_to = f"junction of {port.line}, with {leads_to}"
        told = tuple(
            Mistake(words, HARMLESS in words)
            for words in mistakes_at(mistakes, f"{part.name}.{port.number}")
        )
        rows.append(Row(port, leads_to or TO_AIR.get(port.state, ""), told))
    return Sheet(part, tuple(rows))


def _groups(mistakes: Misconnections | None) -> list[Group]:
    found: dict[str, list[Entry]] = {}
    for one in () if mistakes is None else mistakes.told:
        found.setdefault(harm(one.judgement), []).append(_entry(one))
    return [Group(word, MEANING[word], tuple(entries)) for word, entries in found.items()]


def _entry(one: WrongConnectionTold) -> Entry:
    judgement = one.judgement
    story = ""
    if judgement.story is not None:
        lines = (line.removeprefix(" " * 6) for line in _told(one))
        story = "\n".join(lines)
    reason = judgement.reason if judgement.outcome == "broken" else ""
    example = one.words if len(one.members) > 1 else ""
    return Entry(
        "; ".join(one.told), consequence(judgement) + revealed(one), reason, example, story
    )


def _told(one: WrongConnectionTold) -> list[str]:
    story = one.judgement.story
    return [] if story is None else list(story_lines(story, wrapped, procedure=False))
