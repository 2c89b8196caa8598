"""Progress of long work, on standard error."""

from __future__ import annotations

import shutil
import sys
import time
from collections.abc import Callable
from typing import TYPE_CHECKING, TextIO

import click

if TYPE_CHECKING:
    from verifier.report.result import PropertyResult

# Seconds after which work counts as long, and those between two signs of it.
LONG = 1.0
ON_TERMINAL = 0.2
IN_PIPE = 5.0
_CLEAR = "\r\x1b[K"


class Progress:
    """A line of a terminal that is painted over, or, elsewhere, a line now and then."""

    def __init__(
        self,
        stream: TextIO,
        *,
        terminal: bool,
        colour: bool,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._stream = stream
        self._terminal = terminal
        self._colour = colour
        self._clock = clock
        self._what = ""
        self._here = 0
        self._workers: dict[str, int] = {}
        self._next = clock() + LONG
        self._painted = False

    def begins(self, design: str, what: str, number: int, among: int) -> None:
        self.clear()
        self._what = f"{design}: {what}{f' ({number} of {among})' if number else ''}"
        self._here = 0
        self._workers = {}
        self._next = self._clock() + LONG

    def works(self, engine: str, work: int) -> None:
        if engine:
            self._workers[engine] = work
        else:
            self._here += work
        now = self._clock()
        if now >= self._next:
            self._next = now + (ON_TERMINAL if self._terminal else IN_PIPE)
            self._paint()

    def decides(self, design: str, item: PropertyResult) -> None:
        self.clear()

    def clear(self) -> None:
        """Takes the line away, so that something else can be printed."""
        if self._painted:
            self._stream.write(_CLEAR)
            self._stream.flush()
            self._painted = False

    def _paint(self) -> None:
        work = {"": self._here, **self._workers}
        told = ", ".join(
            f"{name} {count:,}" if name else f"{count:,}" for name, count in work.items() if count
        )
        text = f"{self._what}, solver work {told}"
        if not self._terminal:
            self._stream.write(f"{text}\n")
        else:
            text = text[: shutil.get_terminal_size().columns - 1]
            self._stream.write(_CLEAR + (click.style(text, dim=True) if self._colour else text))
            self._painted = True
        self._stream.flush()


def progress_if(wanted: bool | None) -> Progress | None:
    """None where nobody is to see it: by default, where a line cannot be painted over."""
    from verifier.cli.reading import can_paint, wants_colour

    terminal = can_paint(sys.stderr.isatty())
    if wanted is False or (wanted is None and not terminal):
        return None
    return Progress(sys.stderr, terminal=terminal, colour=wants_colour(terminal))


class Counter:
    """How many of many are done, and about how long the rest takes: after a second, as `Progress`.

    wanted: None shows it where a line can be painted over.
    """

    def __init__(self, wanted: bool | None, clock: Callable[[], float] = time.monotonic) -> None:
        from verifier.cli.reading import can_paint

        self._terminal = can_paint(sys.stderr.isatty())
        self._shows = self._terminal if wanted is None else wanted
        self._clock = clock
        self._began = clock()
        self._next = self._began + LONG
        self._painted = False

    def tell(self, done: int, among: int, what: str) -> None:
        """So many of so many things are done."""
        now = self._clock()
        if not self._shows or now < self._next:
            return
        self._next = now + (ON_TERMINAL if self._terminal else IN_PIPE)
        left = (now - self._began) / done * (among - done)
        text = f"{done} of {among} {what}, about {left:.0f} s left"
        if self._terminal:
            sys.stderr.write(_CLEAR + text[: shutil.get_terminal_size().columns - 1])
            self._painted = True
        else:
            sys.stderr.write(f"{text}\n")
        sys.stderr.flush()

    def clear(self) -> None:
        """Takes the line away, so that something else can be printed."""
        if self._painted:
            sys.stderr.write(_CLEAR)
            sys.stderr.flush()
            self._painted = False
