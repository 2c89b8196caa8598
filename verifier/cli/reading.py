"""Reading designs for a command: diagnostics go to standard error, the design comes back."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.diagnostics.diagnostic import Diagnostic, LimitError, SourceError
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.load import Loaded
    from verifier.report.result import Refused

INVALID = 2


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


def read_or_end(path: Path, limits: Limits) -> Loaded:
    """The elaborated design; where it is refused, the command ends."""
    try:
        return read(path, limits)
    except (SourceError, LimitError) as error:
        _tell(path, error)
        raise click.exceptions.Exit(INVALID) from None


class Ending:
    """A block that ends the command where a source is refused."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def __enter__(self) -> None:
        pass

    def __exit__(self, _: object, error: BaseException | None, __: object) -> None:
        if isinstance(error, SourceError | LimitError):
            _tell(self._path, error)
            raise click.exceptions.Exit(INVALID) from None


@contextmanager
def noting(path: Path, refused: list[Refused]) -> Iterator[None]:
    """A block that ends where a source is refused, which is added to `refused`."""
    try:
        yield
    except (SourceError, LimitError) as error:
        from verifier.report.result import Mistake, Refused

        _tell(path, error)
        if isinstance(error, SourceError):
            refused.append(Refused(str(path), tuple(map(Mistake.of, error.diagnostics))))
        else:
            refused.append(Refused(str(path), (), str(error)))


def _tell(path: Path, error: SourceError | LimitError) -> None:
    if isinstance(error, SourceError):
        show(error.diagnostics, error.texts)
    else:
        show_limit(path, error)


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
