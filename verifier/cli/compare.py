"""`shutproof compare`: what a change does, for the reviewer of it."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.files import deliver, print_text
from verifier.cli.progress import progress_if
from verifier.cli.telling import Teller
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.load import Loaded
    from verifier.report.comparison import Comparison
    from verifier.report.result import Refused
    from verifier.studies.options import Options


@click.command("compare")
@click.argument("old", type=options.FILE)
@click.argument("new", type=options.FILE)
@click.option("--json", "as_json", is_flag=True, help="Print the comparison as JSON.")
@click.option("--markdown", is_flag=True, help="Print it as Markdown, for a review thread.")
@click.option(
    "--faults",
    "order",
    type=click.IntRange(min=0),
    metavar="ORDER",
    help="Compare the cut sets of up to so many faults, too.",
)
@options.search
@click.option("--cores", is_flag=True, help="Tell which things that proofs rest on were changed.")
@options.progress
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    old: Path,
    new: Path,
    as_json: bool,
    markdown: bool,
    order: int | None,
    search: Options,
    progress: bool | None,
    output: Path | None,
    limits: Limits,
) -> None:
    """Tell what a change makes of the design OLD, which is now NEW, and of its safety.

    Both are proved, and compared: parts and tubes, promises and assumptions, verdicts, and what can
    be seen of them at rest.

    Exit status: 0 no loss, 1 something is worse, 2 wrong usage or invalid source, 3 undecided,
    70 a bug of shutproof itself.
    """
    from verifier.report.compared import comparison_markdown, comparison_text
    from verifier.report.json import text_of

    if as_json and markdown:
        raise click.UsageError("--json and --markdown exclude each other")
    told = _compared(old, new, order, search, progress, limits)
    if as_json:
        deliver(text_of(told), output)
    elif told.outcome is not None:
        text = comparison_markdown(told) if markdown else comparison_text(told)
        if output is None:
            print_text(text if markdown else _painted(text))
        else:
            deliver(text.encode(), output)
    ctx.exit(told.exit_status)


def _painted(text: str) -> str:
    """What is worse or open is seen at once on a terminal."""
    from verifier.cli.reading import wants_colour

    if not wants_colour(sys.stdout.isatty()):
        return text
    marks = {
        "!": click.style("!", fg="red", bold=True),
        "?": click.style("?", fg="yellow", bold=True),
    }
    return re.sub("^  ([!?]) ", lambda found: f"  {marks[found[1]]} ", text, flags=re.MULTILINE)


def _compared(
    old: Path,
    new: Path,
    order: int | None,
    search: Options,
    progress: bool | None,
    limits: Limits,
) -> Comparison:
    from verifier.cli.reading import noting
    from verifier.report.comparison import Comparison
    from verifier.studies.compare import compare
    from verifier.studies.prove import UnknownName

    refused: list[Refused] = []
    loaded = [one for one in (_read(path, limits, refused) for path in (old, new)) if one]
    teller = Teller(progress_if(progress), lines=False)
    try:
        if not refused:
            with noting(old, refused):
                return compare(loaded[0], loaded[1], search, teller, order)
    except UnknownName as error:
        raise click.UsageError(str(error)) from None
    finally:
        teller.rests()
    return Comparison(None, None, None, (), (), (), None, None, tuple(refused), 2, ())


def _read(path: Path, limits: Limits, refused: list[Refused]) -> Loaded | None:
    from verifier.cli.reading import noting, read

    with noting(path, refused):
        return read(path, limits)
    return None
