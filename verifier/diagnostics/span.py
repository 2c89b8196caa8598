"""Places in source files."""

from __future__ import annotations

from msgspec import Struct


class Span(Struct, frozen=True, gc=False, order=True):
    """A stretch of a source file; lines and columns count from 1, the end is exclusive."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int
