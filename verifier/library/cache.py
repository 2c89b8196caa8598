"""What was found out about designs before, kept in SQLite.

An answer is known again only if every file that it came from has the bytes that it had, and so have
the approval, the certificate, the versions of all programs, our own source and the options. What
cannot be read, or does not have its digest, is not known. What could not be decided is looked at
again.
"""

from __future__ import annotations

import hashlib
import sqlite3
from importlib.metadata import version
from pathlib import Path
from typing import Protocol

import msgspec
from msgspec import Struct

from verifier.diagnostics.limits import Limits
from verifier.library.approvals import Approval
from verifier.report.library import Examined
from verifier.shipped import LANGUAGE, source_digest
from verifier.studies.options import Options

_MAKERS = ("shutproof", "z3-solver", "python-sat", "lark", "msgspec")
_TABLE = "create table if not exists answers (key text primary key, content blob, digest text)"


class Looked(Struct, frozen=True):
    """An answer, and the digests of the texts that it came from, by their paths from the design's
    folder: as they were read, whatever becomes of the files meanwhile."""

    examined: Examined
    files: dict[str, str]


class Cache(Protocol):
    """Answers that need not be found again."""

    def known(self, path: Path, shown: str, approval: Approval | None) -> Examined | None: ...

    def keep(self, path: Path, shown: str, approval: Approval | None, looked: Looked) -> None: ...


class NoCache:
    """Keeps nothing."""

    def known(self, path: Path, shown: str, approval: Approval | None) -> Examined | None:
        return None

    def keep(self, path: Path, shown: str, approval: Approval | None, looked: Looked) -> None:
        return


class _Kept(Struct, frozen=True):
    """An answer, and the files that it came from with their digests."""

    files: dict[str, str]
    answer: Examined


class SqliteCache:
    """In one file; usable by several runs at once. One that is no database is made anew."""

    def __init__(self, path: Path, options: Options, limits: Limits) -> None:
        """Raises OSError if there can be no such file."""
        made = {name: version(name) for name in _MAKERS}
        self._base = _digest(
            msgspec.json.encode([made, LANGUAGE, options, limits, source_digest()])
        )
        try:
            self._base_of(path)
        except sqlite3.OperationalError as problem:
            # No room, or nobody may write: there may be nothing wrong with the file.
            raise OSError(None, str(problem), str(path)) from None
        except sqlite3.DatabaseError:
            path.unlink(missing_ok=True)
            try:
                self._base_of(path)
            except sqlite3.Error as problem:
                raise OSError(None, str(problem), str(path)) from None

    def _base_of(self, path: Path) -> None:
        self._rows = sqlite3.connect(path, timeout=30, isolation_level=None)
        self._rows.execute("pragma journal_mode = wal")
        self._rows.execute(_TABLE)

    def known(self, path: Path, shown: str, approval: Approval | None) -> Examined | None:
        try:
            row = self._rows.execute(
                "select content, digest from answers where key = ?", (self._key(shown, approval),)
            ).fetchone()
        except sqlite3.Error:
            return None
        if row is None or not isinstance(row[0], bytes) or _digest(row[0]) != row[1]:
            return None
        try:
            kept = msgspec.json.decode(row[0], type=_Kept)
        except (msgspec.DecodeError, UnicodeDecodeError):
            return None
        for name, digest in kept.files.items():
            if _digest_of_file(path.parent / name) != digest:
                return None
        return kept.answer

    def keep(self, path: Path, shown: str, approval: Approval | None, looked: Looked) -> None:
        answer = looked.examined
        files = dict(looked.files)
        if answer.status == "approved" and approval is not None:
            files[approval.certificate] = approval.certificate_sha256
        if answer.status in ("failed", "invalid") or answer.verdict in (None, "inconclusive"):
            return
        content = msgspec.json.encode(_Kept(files, answer))
        row = (self._key(shown, approval), content, _digest(content))
        try:
            self._rows.execute("insert or replace into answers values (?, ?, ?)", row)
        except sqlite3.Error:
            return  # a full disk costs time, and nothing else

    def _key(self, shown: str, approval: Approval | None) -> str:
        told = "" if approval is None else approval.digest
        return _digest(f"{self._base} {told} {shown}".encode())


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _digest_of_file(path: Path) -> str:
    """ "" of one that cannot be read."""
    try:
        return _digest(path.read_bytes())
    except OSError:
        return ""
