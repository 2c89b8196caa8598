"""The table of mutants that live, each with the reason why that does no harm."""

from __future__ import annotations

import tomllib
from pathlib import Path

from msgspec import Struct

from tests.mutation.mutants import Mutant

TABLE = Path(__file__).with_name("survivors.toml")


class Survivor(Struct, frozen=True):
    """module: its path.   line: its text.   change: what stood there, and what stands instead."""

    module: str
    line: str
    change: str

    @staticmethod
    def of(mutant: Mutant) -> Survivor:
        return Survivor(mutant.path, mutant.text, mutant.change)


def reasons() -> dict[Survivor, str]:
    """All entries, each once. Raises ValueError for one that comes twice."""
    found: dict[Survivor, str] = {}
    for entry in tomllib.loads(TABLE.read_text(encoding="utf-8")).get("survivor", []):
        survivor = Survivor(entry["module"], entry["line"], entry["change"])
        if survivor in found:
            raise ValueError(f"twice: {survivor}")
        found[survivor] = entry["reason"]
    return found


def survivors() -> frozenset[Survivor]:
    return frozenset(reasons())
