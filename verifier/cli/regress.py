"""`shutproof regress`: whether the approved designs of a folder still stand."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.files import FileTrouble, deliver, print_text, write_whole
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.engines.crew import Crew
    from verifier.library.cache import Cache
    from verifier.library.regress import Far
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
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Have the machines of a dask.distributed cluster look, instead of this one.",
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
    cluster: str | None,
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
    from verifier.cli.progress import Counter
    from verifier.cli.reading import wants_colour
    from verifier.cli.shelf import check_pages, write_pages
    from verifier.library.regress import regress
    from verifier.report.library_text import line_of, unpainted

    if pages is not None:
        check_pages(pages)
    crew = _crew(search)
    counter = Counter(progress)
    paint = _painted if wants_colour(sys.stdout.isatty()) else unpainted

    def tell(done: int, among: int, one: Examined) -> None:
        if not as_json and output is None:
            counter.clear()
            print_text(line_of(one, paint))
        counter.tell(done, among, "designs")

    try:
        known = _cache(cache, search, limits)
        with _far(cluster, search, limits, crew) as far:
            result = regress(folder, search, limits, crew, known, tell, far)
    except OSError as error:
        raise FileTrouble(f"{error.filename or cache}: {error.strerror or error}") from None
    finally:
        counter.clear()
    _write(result, junit, sarif)
    if pages is not None:
        write_pages(pages, folder, result, limits, Counter(progress))
    _tell(result, output, as_json=as_json)
    ctx.exit(result.exit_status)


def _crew(search: Options) -> Crew:
    from verifier.engines.crew import Crew, default_jobs

    usual = Crew()
    return Crew(
        search.jobs or default_jobs(),
        search.memory or usual.memory,
        search.patience or usual.patience,
    )


def _tell(result: LibraryResult, output: Path | None, *, as_json: bool) -> None:
    """What is not told yet: the designs were, one by one, where it is text for the terminal."""
    from verifier.report.json import text_of
    from verifier.report.library_text import closing_text, line_of

    if as_json:
        deliver(text_of(result), output)
    elif output is None:
        print_text(closing_text(result))
    else:
        lines = "".join(map(line_of, result.designs))
        deliver((lines + closing_text(result)).encode(), output)


def _write(result: LibraryResult, junit: Path | None, sarif: Path | None) -> None:
    from verifier.report.library_text import junit as junit_of
    from verifier.report.sarif import sarif_of_library

    if junit is not None:
        write_whole(junit, junit_of(result))
    if sarif is not None:
        write_whole(sarif, sarif_of_library(result))


def _painted(one: Examined, words: str) -> str:
    """Green stands; yellow is to be decided by people; red does not stand."""
    if one.status == "approved":
        return click.style(words, fg="green", bold=True)
    undecided = one.status in ("unapproved", "failed") and one.verdict in (
        None,
        "holds",
        "inconclusive",
        "delay dependent",
    )
    return click.style(words, fg="yellow" if undecided else "red", bold=True)


def _cache(path: Path | None, search: Options, limits: Limits) -> Cache:
    from verifier.library.cache import NoCache, SqliteCache

    return NoCache() if path is None else SqliteCache(path, search, limits)


@contextmanager
def _far(address: str | None, search: Options, limits: Limits, crew: Crew) -> Iterator[Far | None]:
    """A cluster's machines, if there is an address."""
    if address is None:
        yield None
        return
    from verifier.library.cluster import Cluster, NoCluster

    try:
        cluster = Cluster(address, search, limits, crew)
    except NoCluster as why:
        raise FileTrouble(str(why)) from None
    try:
        yield cluster.ask_all
    finally:
        cluster.close()
