"""What long runs have done, one line of JSON for each finished part of them.

A run that was interrupted reads its own log and goes on with what is missing. Every line has the
digest of the source that it was made with; a log of other source is refused, so that figures never
add up over two versions.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent


class OtherSource(Exception):
    """The log was made with other source than that of today."""


def digest(patterns: Iterable[str]) -> str:
    """Of names and contents of the files below the root that match."""
    whole = hashlib.sha256()
    for path in sorted({path for pattern in patterns for path in ROOT.glob(pattern)}):
        content = path.read_bytes()
        whole.update(f"{path.relative_to(ROOT).as_posix()} {len(content)}\n".encode())
        whole.update(content)
    return whole.hexdigest()


class Log:
    """The lines of a file, which grows; without a file nothing is kept."""

    def __init__(self, path: Path | None, source: str) -> None:
        """Raises OtherSource. A last line that was cut short is dropped."""
        self._path = path
        self._source = source
        self.lines: list[dict[str, Any]] = []
        text = path.read_text(encoding="utf-8") if path is not None and path.exists() else ""
        whole, _, cut = text.rpartition("\n")
        if path is not None and cut:
            os.truncate(path, len(f"{whole}\n".encode()) if whole else 0)
        for line in whole.splitlines():
            self.lines.append(json.loads(line))
            if self.lines[-1]["source"] != source:
                raise OtherSource(f"{path} was made with other source: {line[:120]}")

    def add(self, **what: Any) -> None:
        """Written at once. Two runs must not share a file."""
        line = {"source": self._source, **what}
        self.lines.append(line)
        if self._path is not None:
            with self._path.open("a", encoding="utf-8") as file:
                file.write(json.dumps(line) + "\n")
