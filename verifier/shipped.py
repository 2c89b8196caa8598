"""Where the files that travel with the package lie: grammar, catalogue, approved designs."""

from __future__ import annotations

from pathlib import Path

LANGUAGE = 1
"""Version of the language: raised when a design that was accepted comes to mean something else."""

_PACKAGE = Path(__file__).resolve().parent


def _folder(inside: str, checkout: str) -> Path:
    """In a wheel the folder lies inside the package, in a checkout beside it."""
    packaged = _PACKAGE / inside
    return packaged if packaged.is_dir() else _PACKAGE.parent / checkout


def grammar_folder() -> Path:
    """Holds interlock.lark, standard.ilk and REFERENCE.md."""
    return _folder("_grammar", "grammar")


def specs_folder() -> Path:
    """Holds the approved designs, one folder each."""
    return _folder("_specs", "specs")
