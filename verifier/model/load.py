"""From a file to a circuit: the one entrance for every command and study."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from verifier.diagnostics.diagnostic import Diagnostic, LimitError
from verifier.diagnostics.limits import Limits
from verifier.model.circuit import Circuit
from verifier.model.elaborate import elaborate
from verifier.model.gather import Gathered, Gathering, unreadable
from verifier.model.mistakes import Enough
from verifier.model.reading import Unreadable, read_text


class Loaded(Struct, frozen=True):
    """A design, ready to be judged. `texts` maps each file's name, as in spans, to its text."""

    circuit: Circuit
    warnings: tuple[Diagnostic, ...]
    texts: dict[str, str]


def load(
    path: Path,
    limits: Limits | None = None,
    *,
    root: Path | None = None,
    shown: str | None = None,
) -> Loaded:
    """Read the design in `path` with everything that it uses and includes.

    root: the project folder, outside of which nothing is read (the file's own folder if None).
    shown: how the file is called in everything that is told of it (its path if None).
    Raises `SourceError` with all mistakes of a stage, `LimitError` when something is too large.
    """
    bounds = limits or Limits()
    shown = path.as_posix() if shown is None else shown
    try:
        real = path.resolve()
        folder = real.parent if root is None else root.resolve()
        if not real.is_relative_to(folder):
            raise Unreadable("it lies outside the project folder")
        text = read_text(real, shown, bounds, follow=False)
    except (OSError, ValueError, RuntimeError):
        raise unreadable(shown, Unreadable("it has no valid name")) from None
    except Unreadable as reason:
        raise unreadable(shown, reason) from None
    return _load(text, shown, real, folder, bounds)


def load_text(text: str, path: str = "text.ilk", limits: Limits | None = None) -> Loaded:
    """As `load`, for a text without a folder: it may use the catalogue, but include nothing."""
    return _load(text, path, None, None, limits or Limits())


def _load(text: str, shown: str, real: Path | None, root: Path | None, limits: Limits) -> Loaded:
    try:
        gathered = _gather(text, shown, real, root, limits)
        found = elaborate(gathered, limits)
    except RecursionError:
        told = f"{shown}: nested too deep to be read; --max-nesting and --max-depth set the limits"
        raise LimitError(told) from None
    return Loaded(found.circuit, found.warnings, gathered.texts)


def _gather(
    text: str, shown: str, real: Path | None, root: Path | None, limits: Limits
) -> Gathered:
    gathering = Gathering(limits, root)
    try:
        source = gathering.parsed(text, shown)
        if source is not None:
            gathering.file(source, real, included=False)
        return gathering.gathered(shown)
    except Enough:
        gathering.mistakes.stop_if_errors(gathering.texts)
        raise
