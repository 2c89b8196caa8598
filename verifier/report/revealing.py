"""Which step of a test sheet reveals a wrong connection: what `commission --json` printed, read."""

from __future__ import annotations

from typing import Literal

import msgspec
from msgspec import Struct, structs

from verifier.report.misconnections import Member, Misconnections


class _Look(Struct, frozen=True):
    at: str
    reveals: tuple[str, ...]


class _Step(Struct, frozen=True):
    number: int
    looks: tuple[_Look, ...]


class _Hidden(Struct, frozen=True):
    fault: str
    why: Literal["never", "hides", "open"]


class Sheet(Struct, frozen=True):
    """As much of a test procedure as is needed here. Names of wrong connections are their words."""

    design: str
    steps: tuple[_Step, ...]
    unrevealed: tuple[_Hidden, ...]
    format: Literal["shutproof procedure"]


class _Printed(Struct, frozen=True):
    procedure: Sheet


_HIDDEN = {
    "never": "no test sheet is sure to reveal it",
    "hides": "this test sheet may not reveal it",
    "open": "it is not known whether this test sheet reveals it",
}


class NoSheet(Exception):
    """Why something is no test sheet of the design, for the user."""


def sheet_from(text: bytes, design: str) -> Sheet:
    """Raises NoSheet."""
    try:
        sheet = msgspec.json.decode(text, type=_Printed).procedure
    except (msgspec.DecodeError, msgspec.ValidationError) as mistake:
        raise NoSheet(f"it is not what `commission --json` prints: {mistake}") from None
    if sheet.design != design:
        raise NoSheet(f"it is of `{sheet.design}`, not of `{design}`")
    return sheet


def with_steps(told: Misconnections, sheet: Sheet) -> Misconnections:
    """The same, each wrong connection with the first step that reveals it."""
    first: dict[str, str] = {}
    for step in sheet.steps:
        for look in step.looks:
            for name in look.reveals:
                first.setdefault(name, f"step {step.number} reveals it, at {look.at}")
    for one in sheet.unrevealed:
        first.setdefault(one.fault, _HIDDEN[one.why])

    def member(one: Member) -> Member:
        reveals = first.get(one.words, "this test sheet does not speak of it")
        return structs.replace(one, reveals=reveals)

    return structs.replace(
        told,
        told=tuple(
            structs.replace(one, members=tuple(map(member, one.members))) for one in told.told
        ),
    )
