"""Reading source files: ordinary UTF-8 files of bounded size, inside the project folder."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from verifier.diagnostics.limits import Limits, exceeded
from verifier.syntax.text import decode

SUFFIX = ".ilk"


class Unreadable(Exception):
    """Why a file was not read, for the user."""


def read_text(path: Path, shown: str, limits: Limits, *, follow: bool = True) -> str:
    """The text of a regular file.

    Raises `Unreadable`, `LimitError` when it is too large, `SourceError` when it is no UTF-8 text.

    The file is opened without waiting, so a pipe or a device is refused and not waited for.
    follow: whether `path` may itself be a link (not one that was resolved and judged before).
    """
    flags = os.O_RDONLY
    for name in ("O_NONBLOCK", "O_CLOEXEC", *(() if follow else ("O_NOFOLLOW",))):
        flags |= getattr(os, name, 0)
    try:
        number = os.open(path, flags)
    except (OSError, ValueError) as problem:
        raise Unreadable(_reason(problem)) from None
    try:
        if not stat.S_ISREG(os.fstat(number).st_mode):
            raise Unreadable("it is not an ordinary file")
        with os.fdopen(number, "rb", closefd=False) as file:
            data = file.read(limits.max_bytes + 1)
    except OSError as problem:
        raise Unreadable(_reason(problem)) from None
    finally:
        os.close(number)
    if len(data) > limits.max_bytes:
        raise exceeded(limits, "max_bytes", shown, "bytes")
    return decode(data, shown)


def _reason(problem: OSError | ValueError) -> str:
    if isinstance(problem, FileNotFoundError):
        return "there is no such file"
    if isinstance(problem, PermissionError):
        return "reading it is not allowed"
    if isinstance(problem, OSError) and problem.strerror:
        return problem.strerror.lower()
    return "it has no valid name"


def inside(folder: Path, root: Path, written: str) -> Path:
    """The file that an include names, links followed. Raises `Unreadable` unless it is in `root`.

    folder: of the including file. Both folders must be resolved.
    """
    if not written or "\\" in written or "\0" in written:
        raise Unreadable("a path has names and `/` between them")
    if written.startswith(("/", "~")) or (len(written) > 1 and written[1] == ":"):
        raise Unreadable("the path must be relative")
    try:
        wanted = Path(os.path.normpath(folder / written))
        if not wanted.is_relative_to(root):
            raise Unreadable("it lies outside the project folder")
        real = wanted.resolve()
    except (OSError, ValueError, RuntimeError) as problem:
        raise Unreadable(_reason(problem) if isinstance(problem, OSError) else "bad name") from None
    if not real.is_relative_to(root):
        raise Unreadable("it is a link that leads outside the project folder")
    return real
