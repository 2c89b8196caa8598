"""The grammar and the catalogue as they travel with the package."""

from __future__ import annotations

from pathlib import Path

from verifier.shipped import grammar_folder


def grammar_text() -> str:
    """The text of interlock.lark."""
    return (grammar_folder() / "interlock.lark").read_text(encoding="utf-8")


def catalogue_path() -> Path:
    """The catalogue of kinds that `use standard` loads."""
    return grammar_folder() / "standard.ilk"


def tables_path() -> Path:
    """The parser's tables, derived from the grammar by `verifier.syntax.tables`."""
    return grammar_folder() / "interlock.tables.json"
