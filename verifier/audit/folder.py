"""The files of a folder of evidence, and that they are all as its manifest says."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import msgspec

from verifier.audit.outcome import NoBundle, Rejected
from verifier.report.bundle import MANIFEST, file_of, manifest_from, sealed
from verifier.report.json import text_of
from verifier.report.manifest import Manifest


def bundles_in(folder: Path) -> list[Path]:
    """The folder itself if it has a manifest, else all folders in it. Raises NoBundle if that is
    not what it has."""
    if (folder / MANIFEST).is_file():
        return [folder]
    inside = sorted(folder.iterdir()) if folder.is_dir() else []
    if not inside:
        raise NoBundle(f"{folder} is no folder of evidence: it has no {MANIFEST}")
    for one in inside:
        if not (one / MANIFEST).is_file():
            raise NoBundle(f"{one} is no folder of evidence, or not whole: it has no {MANIFEST}")
    return inside


def read(folder: Path) -> tuple[Manifest, dict[str, bytes]]:
    """The manifest and all other files by path. Only what was found in the folder is opened, never
    what a manifest names. Raises Rejected."""
    found = dict(_walk(folder, ""))
    text = found.pop(MANIFEST)
    try:
        manifest = manifest_from(text)
    except (msgspec.DecodeError, UnicodeDecodeError) as problem:
        raise Rejected(MANIFEST, str(problem)) from None
    # One text a manifest: no blank or order of fields may differ, or its digest would not count.
    if text_of(manifest) != text:
        raise Rejected(MANIFEST, "it is not written the one way that a manifest is written")
    if sealed(manifest) != manifest:
        raise Rejected(MANIFEST, "it has another digest than it says")
    listed = [file.path for file in manifest.files]
    if listed != sorted(set(listed)):
        raise Rejected(MANIFEST, "files are not listed once each, in order")
    for path in sorted(set(listed) ^ set(found)):
        raise Rejected(path, "missing" if path in listed else "not in the manifest")
    for file in manifest.files:
        if file_of(file.path, found[file.path]) != file:
            raise Rejected(file.path, "not the file that the manifest lists")
    return manifest, found


def _walk(folder: Path, above: str) -> Iterator[tuple[str, bytes]]:
    """Ordinary files below a folder; links and the like are refused, folders without files too."""
    entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    if not entries:
        raise Rejected(above or str(folder), "an empty folder")
    for entry in entries:
        path, mode = f"{above}{entry.name}", entry.stat(follow_symlinks=False).st_mode
        if stat.S_ISDIR(mode):
            yield from _walk(folder / entry.name, f"{path}/")
        elif stat.S_ISREG(mode):
            yield path, (folder / entry.name).read_bytes()
        else:
            raise Rejected(path, "a link, or no ordinary file")
