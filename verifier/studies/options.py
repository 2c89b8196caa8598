"""What a study may spend and which engine it asks."""

from __future__ import annotations

from msgspec import Struct


class Options(Struct, frozen=True):
    """engine: name of an engine.   conflicts, depth: as in verifier.engines.engine.Budget; None
    takes the engine's own.
    """

    engine: str | None = None
    conflicts: int | None = None
    depth: int | None = None
