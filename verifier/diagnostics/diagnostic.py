"""A diagnostic: one mistake with its code, its place, the other place involved and a hint."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.diagnostics.span import Span


class Diagnostic(Struct, frozen=True, order=True):
    """One mistake. `code` is a key of `verifier.diagnostics.codes.CODES` (E… error, W… warning)."""

    span: Span
    code: str
    message: str
    related: tuple[tuple[Span, str], ...] = ()
    hint: str = ""

    @property
    def severity(self) -> Literal["error", "warning"]:
        return "error" if self.code.startswith("E") else "warning"


class SourceError(Exception):
    """One stage's errors, all at once, sorted by place. Warnings may be among them.

    `texts` maps each file named by a span to its text, for rendering.
    """

    def __init__(self, diagnostics: tuple[Diagnostic, ...], texts: dict[str, str]) -> None:
        super().__init__("; ".join(f"{d.code} {d.message}" for d in diagnostics))
        self.diagnostics = diagnostics
        self.texts = texts


class LimitError(Exception):
    """A limit (size, nesting, repetition, time) was reached; the message names its option."""
