"""What a library of designs looks like today, as data: `shutproof regress --json` prints it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from verifier.report.result import PropertyResult, Refused, Verdict

Status = Literal[
    "approved",
    "changed",
    "not certified",
    "unapproved",
    "tampered",
    "missing",
    "invalid",
    "failed",
]
EXPLAINED: dict[Status, str] = {
    "approved": "as it was approved, and its certificate stands",
    "changed": "another circuit than the one that was approved; proved anew",
    "not certified": "as it was approved, but its certificate is not there or does not stand; "
    "proved anew",
    "unapproved": "nobody approved it; proved anew",
    "tampered": "what was written down of its approval is not as it was written",
    "missing": "approved, but the design is not there",
    "invalid": "no valid design",
    "failed": "it could not be looked at",
}


class Examined(Struct, frozen=True):
    """One design. file: its path from the folder that was asked about.   verdict: of the
    certificate where that stands, else of a proof made now; null if there is neither.
    properties: of a proof made now, those that do not hold, with their stories.
    by, date: of the approval.   reason: why it has its status, "" of what is approved.
    """

    file: str
    status: Status
    verdict: Verdict | None = None
    reason: str = ""
    by: str = ""
    date: str = ""
    properties: tuple[PropertyResult, ...] = ()
    refused: Refused | None = None


class LibraryResult(Struct, frozen=True):
    """One call of `shutproof regress`. exit_status: 0 all are approved and stand; 1 something is
    not; 3 nothing is wrong, but something could not be decided.   known: so many answers came from
    the cache."""

    folder: str
    designs: tuple[Examined, ...]
    known: int
    exit_status: Literal[0, 1, 3]
    cautions: tuple[str, ...]
    format: Literal["shutproof library"] = "shutproof library"
    version: Literal[1] = 1


def exit_status(designs: Sequence[Examined]) -> Literal[0, 1, 3]:
    """What is wrong before what is undecided."""
    undecided = [one for one in designs if one.status == "failed" or one.verdict == "inconclusive"]
    wrong = [one for one in designs if one.status != "approved" and one not in undecided]
    return 1 if wrong else 3 if undecided else 0
