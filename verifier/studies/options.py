"""What a study may spend and which engine it asks."""

from __future__ import annotations

from msgspec import Struct


class Options(Struct, frozen=True):
    """engine: name of an engine.   conflicts, depth: as in verifier.engines.engine.Budget; None
    takes the engine's own.   every_case: tell a run for every case of a property, not only for the
    first that has a shortest one; the verdict on each case is the same.   cores: tell what each
    proof rests on.   jobs, memory, patience: as in verifier.engines.crew.Crew.
    """

    engine: str | None = None
    conflicts: int | None = None
    depth: int | None = None
    every_case: bool = False
    cores: bool = False
    jobs: int | None = None
    memory: int | None = None
    patience: float | None = None
