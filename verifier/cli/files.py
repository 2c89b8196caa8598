"""Output files, which are whole or not there at all."""

from __future__ import annotations

import os
import signal
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

_ENDING_SIGNALS = {signal.SIGINT, signal.SIGTERM}


class FileTrouble(click.ClickException):
    """A file that cannot be written. Ends the command with status 2."""

    exit_code = 2


def write_whole(path: Path, content: bytes) -> None:
    """Replaces the file at once: readers see the old content or the new, never a part.

    Ending signals wait until the new file stands or nothing of it is left.
    """
    folder = path.parent
    try:
        with undisturbed():
            handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=folder)
            try:
                with os.fdopen(handle, "wb") as stream:
                    stream.write(content)
                    stream.flush()
                    os.fsync(stream.fileno())
                os.chmod(name, _mode_of(path))
                os.replace(name, path)
            except BaseException:
                os.unlink(name)
                raise
    except OSError as error:
        raise FileTrouble(f"{path} cannot be written: {error.strerror}") from None


def _mode_of(path: Path) -> int:
    """Permissions that the file has, or that a new one would get."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


@contextmanager
def undisturbed() -> Iterator[None]:
    """Ending signals wait until the block is done."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, _ENDING_SIGNALS)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def deliver(content: bytes, output: Path | None) -> None:
    """To the file, whole, or to standard output."""
    if output is None:
        _print(content)
    else:
        write_whole(output, content)


def print_text(text: str) -> None:
    """To standard output; signs that its encoding does not have are replaced."""
    _print(text.encode(sys.stdout.encoding or "utf-8", errors="replace"))


def _print(content: bytes) -> None:
    """All of it: an unbuffered stream may take a part only. Raises BrokenPipeError."""
    sys.stdout.flush()
    stream, left = sys.stdout.buffer, memoryview(content)
    while left:
        left = left[stream.write(left) or 0 :]
    stream.flush()
