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
from verifier.diagnostics.diagnostic import SourceError
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.circuit import Circuit
    from verifier.pages.runs import CarriedOut
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
@click.argument("file", type=options.FILE, required=False)
@click.option(
    "--compare",
    "both",
    nargs=2,
    type=options.FILE,
    metavar="OLD NEW",
    help="A page of the change from OLD to NEW instead.",
)
@click.option(
    "--property",
    "properties",
    multiple=True,
    metavar="NAME",
    help="Only this property (may be repeated).",
)
@click.option("--date", callback=_date, metavar="DATE", help="For the title block: 2025-03-31.")
@click.option("--all", "every_case", is_flag=True, help="Tell a run for every case of a property.")
@click.option("--cores", is_flag=True, help="Also what each proof rests on, shaded on the drawing.")
@click.option(
    "--faults",
    "order",
    type=click.IntRange(min=0),
    metavar="ORDER",
    help="Also which sets of up to so many faults break it, with their stories.",
)
@click.option(
    "--run",
    "runs",
    multiple=True,
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="RUN",
    help="Also what happens in this .run file (may be repeated).",
)
@options.search
@options.progress
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path | None,
    both: tuple[Path, Path] | None,
    properties: tuple[str, ...],
    date: str,
    order: int | None,
    runs: tuple[Path, ...],
    search: Options,
    progress: bool | None,
    output: Path | None,
    limits: Limits,
) -> None:
    """Prove a design and make a page of it: one HTML file that needs nothing else.

    It has the verdicts, what they take for granted, the drawing, and each story with its sequence
    chart, to be gone through step by step on the drawing. It prints, and it is complete without
    scripts. With --compare OLD NEW the page is about a change: both circuits drawn as one, and what
    `compare` tells, with --faults of cut sets, too.

    Exit status: that of `prove`, 0 all hold, 1 one is violated or vacuous or a run of --run did not
    go as it expects, 2 wrong usage or invalid
    source (then there is no page), 3 one is inconclusive, 70 a bug of shutproof itself; or that of
    `compare`, 0 no loss, 1 something is worse, 3 undecided.
    """
    from verifier.cli.reading import Ending
    from verifier.studies.prove import UnknownName

    if (file is None) == (both is None):
        raise click.UsageError("a page is of one FILE, or of --compare OLD NEW")
    if both is not None and (properties or runs or search.every_case or search.cores):
        raise click.UsageError("--property, --run, --all and --cores are about one FILE")
    teller = Teller(progress_if(progress), lines=False)
    try:
        if both is not None:
            with Ending(both[0]):
                content, status = _change(both, order, date, search, limits, teller)
        elif file is not None:
            with Ending(file):
                asked = (properties, runs, order, date)
                content, status = _design(file, asked, search, limits, teller)
    except UnknownName as error:
        raise click.UsageError(str(error)) from None
    finally:
        teller.rests()
    deliver(content, output)
    ctx.exit(status)


def _design(
    file: Path,
    asked: tuple[tuple[str, ...], tuple[Path, ...], int | None, str],
    search: Options,
    limits: Limits,
    teller: Teller,
) -> tuple[bytes, int]:
    from verifier.cli.reading import read_or_end
    from verifier.pages.design import design_page
    from verifier.report.result import exit_status
    from verifier.studies.faults import FaultOptions, faults
    from verifier.studies.keeping import kept
    from verifier.studies.modelling import CAUTIONS
    from verifier.studies.prove import prove

    properties, runs, order, date = asked
    loaded = read_or_end(file, limits)
    carried = [_carried(path, loaded.circuit, limits) for path in runs]
    stated = [one.name for one in loaded.circuit.properties if one.name in properties]
    if order is not None and properties and not stated:
        raise click.UsageError("--faults asks about properties that the design states")
    with kept() as told:
        result = prove(loaded, search, properties, teller)
        sets = None
        if order is not None:
            wanted = FaultOptions(order, search.conflicts, search.depth)
            sets = faults(loaded, wanted, stated, teller)
    page = design_page(loaded, result, told, CAUTIONS, date=date, faults=sets, runs=carried)
    failed = any(one.played.problems for one in carried)
    return page, 1 if failed else exit_status([result], [])


def _carried(path: Path, circuit: Circuit, limits: Limits) -> CarriedOut:
    """Raises SourceError where it is no run of the design."""
    from verifier.cli.reading import Ending, read_source
    from verifier.pages.runs import CarriedOut
    from verifier.runs.read import read_run
    from verifier.studies.carrying_out import carried_out

    with Ending(path):
        text = read_source(path, limits)
        script = read_run(text, path.as_posix(), limits)
        try:
            return CarriedOut(path, script, carried_out(circuit, script))
        except SourceError as error:
            raise SourceError(error.diagnostics, {path.as_posix(): text}) from None


def _change(
    both: tuple[Path, Path],
    order: int | None,
    date: str,
    search: Options,
    limits: Limits,
    teller: Teller,
) -> tuple[bytes, int]:
    from verifier.cli.reading import read_or_end
    from verifier.pages.change import change_page
    from verifier.studies.compare import compare
    from verifier.studies.keeping import kept

    old, new = (read_or_end(file, limits) for file in both)
    with kept() as runs:
        told = compare(old, new, search, teller, order)
    return change_page(old, new, told, runs, date=date), told.exit_status
