"""The files that are measured: the approved designs, and their variants with a mistake."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def approved() -> list[Path]:
    """Every one holds."""
    return sorted(ROOT.glob("specs/*/*.ilk"))


def variants() -> list[Path]:
    """Every one is violated."""
    return sorted(ROOT.glob("tests/designs/violated/*.ilk"))


def path_of(design: str) -> Path:
    """Of an approved design by its name."""
    return ROOT / "specs" / design / f"{design}.ilk"
