"""Output folders, which are whole or not there at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterable
from pathlib import Path

from verifier.cli.files import FileTrouble, undisturbed


def check_replaceable(folder: Path) -> None:
    """Raises FileTrouble if something lies there that is not a folder of evidence, or not only:
    whatever somebody put into one is not ours to delete."""
    if not folder.is_symlink() and not folder.exists():
        return
    from verifier.audit.folder import read
    from verifier.audit.outcome import Rejected

    try:
        if folder.is_symlink() or not folder.is_dir():
            raise Rejected(str(folder), "no folder")
        read(folder)
    except (Rejected, OSError) as why:
        told = f"{folder} exists and is not an untouched folder of evidence, so it is left alone"
        raise FileTrouble(f"{told} ({why})") from None


def write_folder(folder: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Puts a folder with these files in the place of what `check_replaceable` found there.

    The files are written beside it first, so that nobody sees a part of it under its name.
    """
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        scratch = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.parent))
        try:
            new = scratch / "new"
            for path, content in files:
                file = new / path
                file.parent.mkdir(parents=True, exist_ok=True)
                with file.open("xb") as stream:
                    stream.write(content)
                    stream.flush()
                    os.fsync(stream.fileno())
            check_replaceable(folder)
            with undisturbed():
                if folder.exists():
                    folder.rename(scratch / "old")
                new.rename(folder)
        finally:
            shutil.rmtree(scratch, ignore_errors=True)
    except OSError as error:
        raise FileTrouble(f"{folder} cannot be written: {error.strerror}") from None
