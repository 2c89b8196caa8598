"""Where the files that travel with the package lie: grammar, catalogue, approved designs."""

from __future__ import annotations

import hashlib
from pathlib import Path

LANGUAGE = 1
"""Version of the language: raised when a design that was accepted comes to mean something else."""

_PACKAGE = Path(__file__).resolve().parent


def _folder(inside: str, checkout: str) -> Path:
    """In a wheel the folder lies inside the package, in a checkout beside it."""
    packaged = _PACKAGE / inside
    return packaged if packaged.is_dir() else _PACKAGE.parent / checkout


def source_digest() -> str:
    """SHA-256 in hex of the program's own modules and of what it reads besides: in a checkout two
    programs with one version number need not be the same."""
    digest = hashlib.sha256()
    files = [
        *_PACKAGE.rglob("*.py"),
        *grammar_folder().glob("*.ilk"),
        *grammar_folder().glob("*.lark"),
    ]
    for path in sorted(files):
        digest.update(f"{path.name} {path.stat().st_size}\n".encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()


def grammar_folder() -> Path:
    """Holds interlock.lark, standard.ilk and REFERENCE.md."""
    return _folder("_grammar", "grammar")


def specs_folder() -> Path:
    """Holds the approved designs, one folder each."""
    return _folder("_specs", "specs")
