"""`shutproof regress`: whether the approved designs of a folder still stand."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.files import FileTrouble, deliver, print_text, write_whole
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.library.cache import Cache
    from verifier.report.library import Examined, LibraryResult
    from verifier.studies.options import Options


@click.command("regress")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False, exists=True))
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
@click.option(
    "--junit",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write a JUnit report, with the stories of what is broken.",
)
@options.sarif
@click.option(
    "--html",
    "pages",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="Write pages there: an index to search in, and one for each design.",
)
@click.option(
    "--cache",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Keep answers there; one is used again while nothing that it came from has changed.",
)
@options.search
@click.option(
    "--progress/--no-progress",
    "progress",
    default=None,
    help="Show how far it is on standard error; on a terminal that is usual.",
)
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    folder: Path,
    as_json: bool,
    junit: Path | None,
    pages: Path | None,
    sarif: Path | None,
    cache: Path | None,
    search: Options,
    progress: bool | None,
    output: Path | None,
    limits: Limits,
) -> None:
    """Look at all designs below a folder, and at what approval.toml says of them.

    Of a design that is as it was approved the certificate is checked, without a search; any other
    is proved anew. Each has a worker process of its own, --jobs at a time.

    Exit status: 0 all are approved and stand, 1 something does not, 2 wrong usage or files that
    cannot be written, 3 nothing is wrong but something could not be decided, 70 a bug of shutproof
    itself.
    """
    from verifier.cli.shelf import check_pages
    from verifier.engines.crew import Crew, default_jobs
    from verifier.library.regress import regress
    from verifier.report.json import text_of
    from verifier.report.library_text import closing_text, line_of

    if pages is not None:
        check_pages(pages)
    usual = Crew()
    crew = Crew(
        search.jobs or default_jobs(),
        search.memory or usual.memory,
        search.patience or usual.patience,
    )
    shows = sys.stderr.isatty() if progress is None else progress
    began = time.monotonic()

    def tell(done: int, among: int, one: Examined) -> None:
        if not as_json and output is None:
            print_text(line_of(one))
        if shows:
            click.echo(_progress(done, among, time.monotonic() - began), err=True)

    try:
        result = regress(folder, search, limits, crew, _cache(cache, search, limits), tell)
    except OSError as error:
        raise FileTrouble(f"{error.filename or cache}: {error.strerror or error}") from None
    _write(result, junit, sarif)
    if pages is not None:
        _write_pages(pages, folder, result, limits, shows)
    if as_json:
        deliver(text_of(result), output)
    elif output is None:
        print_text(closing_text(result))
    else:
        lines = "".join(map(line_of, result.designs))
        deliver((lines + closing_text(result)).encode(), output)
    ctx.exit(result.exit_status)


def _write(result: LibraryResult, junit: Path | None, sarif: Path | None) -> None:
    from verifier.report.library_text import junit as junit_of
    from verifier.report.sarif import sarif_of_library

    if junit is not None:
        write_whole(junit, junit_of(result))
    if sarif is not None:
        write_whole(sarif, sarif_of_library(result))


def _write_pages(
    pages: Path, folder: Path, result: LibraryResult, limits: Limits, shows: bool
) -> None:
    from verifier.cli.shelf import write_pages

    began = time.monotonic()

    def tell(done: int, among: int) -> None:
        if shows and (done % 50 == 0 or done == among):
            click.echo(_progress(done, among, time.monotonic() - began, "pages"), err=True)

    write_pages(pages, folder, result, limits, tell)


def _cache(path: Path | None, search: Options, limits: Limits) -> Cache:
    from verifier.library.cache import NoCache, SqliteCache

    return NoCache() if path is None else SqliteCache(path, search, limits)


def _progress(done: int, among: int, seconds: float, what: str = "designs") -> str:
    left = seconds / done * (among - done)
    return f"{done} of {among} {what}, about {left:.0f} s left"
