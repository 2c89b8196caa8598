"""Tells what `prove` finds as it finds it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from verifier.cli.files import deliver
from verifier.cli.progress import Progress

if TYPE_CHECKING:
    from verifier.report.lines import Line
    from verifier.report.result import DesignResult, PropertyResult, Refused, Result


class Teller:
    """Watches a study: shows its progress and prints lines, where that is wanted."""

    def __init__(self, progress: Progress | None, *, lines: bool) -> None:
        self._progress = progress
        self._lines = lines
        self._file = ""

    def reads(self, file: str) -> None:
        """What is told from here on is about this file."""
        self._file = file

    def begins(self, design: str, what: str, number: int, among: int) -> None:
        if self._progress is not None:
            self._progress.begins(design, what, number, among)

    def works(self, engine: str, work: int) -> None:
        if self._progress is not None:
            self._progress.works(engine, work)

    def decides(self, design: str, item: PropertyResult) -> None:
        if self._progress is not None:
            self._progress.decides(design, item)
        from verifier.report.lines import PropertyLine

        if self._lines:
            self._print(PropertyLine(self._file, design, item))

    def rests(self) -> None:
        """Nothing is worked on for now."""
        if self._progress is not None:
            self._progress.clear()

    def finishes(self, design: DesignResult) -> None:
        from verifier.report.lines import DesignLine

        if self._lines:
            self._print(DesignLine(design))

    def refuses(self, refused: Refused) -> None:
        from verifier.report.lines import RefusedLine

        if self._lines:
            self._print(RefusedLine(refused))

    def ends(self, result: Result) -> None:
        from verifier.report.lines import EndLine

        if self._lines:
            self._print(EndLine.of(result))

    def _print(self, line: Line) -> None:
        from verifier.report.lines import line_text

        deliver(line_text(line), None)
