"""Writing the pages of a library."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from verifier.cli.files import FileTrouble, write_whole
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.cli.progress import Counter
    from verifier.model.circuit import Circuit
    from verifier.report.library import LibraryResult

OURS = b'<meta name="generator" content="shutproof">'


def check_pages(folder: Path) -> None:
    """Raises FileTrouble where the pages would go over a file that is none of ours."""
    index = folder / "index.html"
    try:
        strange = index.exists() and OURS not in index.read_bytes()
    except OSError as error:
        raise FileTrouble(f"{index} cannot be read: {error.strerror}") from None
    if strange:
        raise FileTrouble(f"{index} was not written by shutproof, so it is left alone")


def write_pages(
    pages: Path,
    folder: Path,
    result: LibraryResult,
    limits: Limits,
    counter: Counter,
) -> None:
    """An index and a page for each design, each file whole.

    Raises FileTrouble for what cannot be written.
    """
    from verifier.diagnostics.diagnostic import LimitError, SourceError
    from verifier.model.load import load
    from verifier.pages.shelf import shelf_pages

    def read(file: str) -> Circuit | None:
        try:
            return load(folder / file, limits).circuit
        except (SourceError, LimitError):
            return None

    among = len(result.designs) + 1
    for number, (path, content) in enumerate(shelf_pages(result, read), 1):
        target = pages / path
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise FileTrouble(f"{target} cannot be written: {error.strerror}") from None
        write_whole(target, content)
        counter.tell(number, among, "pages")
    counter.clear()
