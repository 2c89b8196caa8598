"""Reading designs for a command: diagnostics go to standard error, the design comes back."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.diagnostics.diagnostic import Diagnostic, LimitError, SourceError
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.load import Loaded


def read(path: Path, limits: Limits, *, strict: bool = False) -> Loaded:
    """The elaborated design; its warnings are shown.

    Raises SourceError when it has errors (or, with `strict`, warnings), and LimitError.
    """
    from verifier.model.load import load

    loaded = load(path, limits)
    if loaded.warnings and strict:
        raise SourceError(loaded.warnings, loaded.texts)
    show(loaded.warnings, loaded.texts)
    return loaded


def read_source(path: Path, limits: Limits) -> str:
    """The text of one source file. Raises SourceError when it cannot be read, and LimitError."""
    from verifier.model.gather import unreadable
    from verifier.model.reading import Unreadable, read_text

    shown = path.as_posix()
    try:
        return read_text(path, shown, limits)
    except Unreadable as reason:
        raise unreadable(shown, reason) from None


def show(diagnostics: Iterable[Diagnostic], texts: dict[str, str]) -> None:
    """Prints diagnostics to standard error, in colour on a terminal unless NO_COLOR is set."""
    from verifier.diagnostics.render import render

    found = tuple(diagnostics)
    if found:
        text = render(found, texts, colour=wants_colour(sys.stderr.isatty()))
        click.echo(text.rstrip("\n"), err=True, color=True)


def show_limit(path: Path, error: LimitError) -> None:
    words = str(error)
    prefix = "" if words.startswith(str(path)) else f"{path}: "
    click.echo(f"{prefix}{words}", err=True)


def can_paint(terminal: bool) -> bool:
    return terminal and os.environ.get("TERM") != "dumb"


def wants_colour(terminal: bool) -> bool:
    return can_paint(terminal) and not os.environ.get("NO_COLOR")
