"""`shutproof approve`: an approval with its certificate, or why there is none."""

from __future__ import annotations

import fcntl
import hashlib
import os
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from verifier.library.approvals import NAME, Approval, Tampered, current, read, sealed, text_of
from verifier.model.load import Loaded
from verifier.report.certificate import Certificate
from verifier.report.faults import DesignFaults
from verifier.report.json import text_of as json_text_of
from verifier.report.result import DesignResult

Write = Callable[[Path, bytes], None]
"""Puts a file in its place as a whole, or not at all."""


class Refused(Exception):
    """What cannot be approved, and why. undecided: it might be, were more known."""

    def __init__(self, why: str, *, undecided: bool = False) -> None:
        super().__init__(why)
        self.undecided = undecided


def may_be_approved(result: DesignResult) -> None:
    """Raises Refused unless everything holds, or is delay dependent and so told."""
    wrong = [item.name for item in result.properties if item.verdict not in STANDS]
    if wrong:
        open_only = result.verdict == "inconclusive"
        raise Refused(f"not all of it holds: {', '.join(wrong)}", undecided=open_only)


def not_before_the_last(path: Path, day: str) -> None:
    """Raises Refused for a day, taken from the clock, before that of the approval to be replaced:
    the clock may have been set back."""
    try:
        last = current(read(path.parent)).get(path.name)
    except Tampered as why:
        raise Refused(f"{path.parent / NAME}: {why}") from None
    if last is not None and day < last.date:
        clock = f"the clock says {day}, and what it would replace was approved on {last.date}"
        raise Refused(f"{clock}; --date gives the day")


def approve(
    path: Path,
    loaded: Loaded,
    result: DesignResult,
    certificate: Certificate,
    faults: DesignFaults | None,
    signed: tuple[str, str, str],
    write: Write,
) -> Approval:
    """Writes the certificate, then the approval that names it; what no approval names any more is
    removed. signed: by whom, why, and when. Raises Refused and OSError."""
    may_be_approved(result)
    by, reason, date = signed
    content = json_text_of(certificate)
    sha256 = hashlib.sha256(content).hexdigest()
    name = f"{path.stem}.{sha256[:16]}.certificate.json"
    with _alone(path.parent):
        try:
            before = read(path.parent)
        except Tampered as why:
            raise Refused(f"{path.parent / NAME}: {why}") from None
        replaced = current(before).get(path.name)
        approval = sealed(
            Approval(
                design=path.name,
                title=loaded.circuit.title,
                revision=loaded.circuit.revision,
                circuit=certificate.circuit,
                language=certificate.language,
                by=by,
                reason=reason,
                date=date,
                replaces="" if replaced is None else replaced.digest,
                certificate=name,
                certificate_sha256=sha256,
                verdict=result.verdict,
                verdicts={item.name: item.verdict for item in result.properties},
                made_with=certificate.made_with,
                cut_sets={} if faults is None else _counts(faults),
            )
        )
        write(path.parent / name, content)
        write(path.parent / NAME, text_of((*before, approval)).encode())
        _tidy(path, (*before, approval))
    return approval


def _tidy(path: Path, approvals: tuple[Approval, ...]) -> None:
    """Removes this design's certificates that no approval names any more, and what approvals that
    were killed have left. Nobody else is at work in the folder."""
    named = {one.certificate for one in current(approvals).values()}
    own = re.escape(path.stem)
    certificate = re.compile(rf"{own}\.[0-9a-f]{{16}}\.certificate\.json")
    left = re.compile(rf"\.({re.escape(NAME)}|{certificate.pattern})\.[^.]+")
    for one in path.parent.iterdir():
        ours = certificate.fullmatch(one.name) is not None and one.name not in named
        if ours or left.fullmatch(one.name):
            one.unlink(missing_ok=True)


STANDS = ("holds", "delay dependent")


def _counts(faults: DesignFaults) -> dict[str, tuple[int, ...]]:
    return {
        item.name: tuple(
            sum(len(one.faults) == order for one in item.cut_sets)
            for order in range(item.complete_to + 1)
        )
        for item in faults.properties
        if not item.why_not
    }


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Nobody else approves in this folder meanwhile."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
