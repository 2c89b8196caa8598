"""`shutproof report`: a page of a design, for people who want to see it."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.files import deliver
from verifier.cli.progress import progress_if
from verifier.cli.telling import Teller
from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.studies.options import Options


def _date(_: click.Context, __: click.Parameter, told: str | None) -> str:
    """ISO 8601, so that nobody takes a day for a month."""
    if told is None:
        return ""
    try:
        return datetime.date.fromisoformat(told).isoformat()
    except ValueError:
        raise click.BadParameter(f"{told} is no date like 2025-03-31") from None


@click.command("report")
@options.one_file
@click.option(
    "--property",
    "properties",
    multiple=True,
    metavar="NAME",
    help="Only this property (may be repeated).",
)
@click.option("--date", callback=_date, metavar="DATE", help="For the title block: 2025-03-31.")
@click.option("--all", "every_case", is_flag=True, help="Tell a run for every case of a property.")
@click.option("--cores", is_flag=True, help="Also what each proof rests on, and what on nothing.")
@options.search
@click.option(
    "--progress/--no-progress",
    "progress",
    default=None,
    help="Show long work on standard error; on a terminal that is usual.",
)
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    properties: tuple[str, ...],
    date: str,
    search: Options,
    progress: bool | None,
    output: Path | None,
    limits: Limits,
) -> None:
    """Prove a design and make a page of it: one HTML file that needs nothing else.

    It has the verdicts, what they take for granted, and each story with its sequence chart, to be
    gone through step by step. It prints, and it is complete without scripts.

    Exit status: that of `prove`, 0 all hold, 1 one is violated or vacuous, 2 wrong usage or invalid
    source (then there is no page), 3 one is inconclusive, 70 a bug of shutproof itself.
    """
    from verifier.cli.reading import read, show, show_limit
    from verifier.pages.design import design_page
    from verifier.report.result import exit_status
    from verifier.studies.keeping import kept
    from verifier.studies.modelling import CAUTIONS
    from verifier.studies.prove import UnknownName, prove

    teller = Teller(progress_if(progress), lines=False)
    try:
        loaded = read(file, limits)
        with kept() as runs:
            result = prove(loaded, search, properties, teller)
    except SourceError as error:
        show(error.diagnostics, error.texts)
        ctx.exit(2)
    except LimitError as error:
        show_limit(file, error)
        ctx.exit(2)
    except UnknownName as error:
        raise click.UsageError(f"{file}: {error}") from None
    finally:
        teller.rests()
    deliver(design_page(loaded, result, runs, CAUTIONS, date=date), output)
    ctx.exit(exit_status([result], []))
