"""`shutproof hookup`: what goes where, for the person who connects it, and what mistakes do."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from verifier.cli import options
from verifier.cli.files import FileTrouble, deliver, print_text, write_whole
from verifier.cli.interrupting import INTERRUPTED, interruptible
from verifier.cli.progress import progress_if
from verifier.cli.telling import Teller
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.load import Loaded
    from verifier.report.hookup import Hookup
    from verifier.report.misconnections import Misconnections
    from verifier.report.revealing import Sheet
    from verifier.studies.options import Options

Form = Literal["text", "csv", "html", "json"]


@click.command("hookup")
@options.one_file
@click.option("--csv", "form", flag_value="csv", help="A table for spreadsheets.")
@click.option("--html", "form", flag_value="html", help="A page that prints on A4.")
@click.option("--json", "form", flag_value="json", help="JSON.")
@click.option(
    "--list",
    "rows",
    type=click.Choice(["parts", "tubes"]),
    default="parts",
    show_default=True,
    help="With --csv: a row for each port, or for each tube.",
)
@click.option(
    "--mistakes",
    is_flag=True,
    help="Also what comes of every swap of two ports of one part, and of every tube left off.",
)
@click.option(
    "--part",
    "parts",
    multiple=True,
    metavar="NAME",
    help="Only this part, and mistakes at it (may be repeated).",
)
@click.option("--stories", is_flag=True, help="With --mistakes: tell each sequence.")
@click.option(
    "--runs",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="With --mistakes: write each sequence as a .run file for `shutproof operate`.",
)
@click.option(
    "--sheet",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="With --mistakes: what `shutproof commission --json` printed; tells which step of that "
    "test reveals each.",
)
@options.search
@options.progress
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    form: Form | None,
    rows: str,
    mistakes: bool,
    parts: tuple[str, ...],
    stories: bool,
    runs: Path | None,
    sheet: Path | None,
    search: Options,
    progress: bool | None,
    output: Path | None,
    limits: Limits,
) -> None:
    """List the connections of a design: every port of every part, and every tube, with boxes.

    With --mistakes every single wrong connection is judged: proved to do no harm, or shown what it
    breaks of what held, worst first. That can be interrupted (Ctrl-C): then what is known is told.

    Exit status: 0 done, and no mistake does harm; with --mistakes 1 some do, 3 of some it is not
    known; 2 wrong usage or an invalid source, 70 a bug of shutproof itself, 130 interrupted.
    """
    from verifier.cli.reading import read_or_end
    from verifier.report.hookup import hookup_of

    if not mistakes and (stories or runs is not None or sheet is not None):
        raise click.UsageError("--stories, --runs and --sheet are about --mistakes")
    loaded = read_or_end(file, limits)
    _check_parts(loaded, parts)
    steps = None if sheet is None else _sheet(sheet, loaded.circuit.name)
    found = _mistakes(file, loaded, search, parts, progress) if mistakes else None
    if found is not None and steps is not None:
        from verifier.report.revealing import with_steps

        found = with_steps(found, steps)
    hookup = hookup_of(loaded.circuit, parts)
    _show(form or "text", rows, hookup, found, stories, output)
    if found is None:
        ctx.exit(0)
    if runs is not None:
        _write_runs(runs / loaded.circuit.name, found)
    from verifier.report.misconnections import exit_status

    ctx.exit(INTERRUPTED if found.interrupted else exit_status(found))


def _sheet(path: Path, design: str) -> Sheet:
    """Read before anything takes long."""
    from verifier.report.revealing import NoSheet, sheet_from

    try:
        return sheet_from(path.read_bytes(), design)
    except OSError as error:
        raise click.UsageError(f"{path} cannot be read: {error.strerror}") from None
    except NoSheet as reason:
        raise click.UsageError(f"{path}: {reason}") from None


def _check_parts(loaded: Loaded, parts: tuple[str, ...]) -> None:
    from verifier.model.mistakes import did_you_mean

    known = [part.name for part in loaded.circuit.parts]
    for part in parts:
        if part not in known:
            hint = did_you_mean(part, known)
            raise click.UsageError(f"there is no part `{part}`{f'; {hint}' if hint else ''}")


def _mistakes(
    file: Path,
    loaded: Loaded,
    search: Options,
    parts: tuple[str, ...],
    progress: bool | None,
) -> Misconnections:
    from verifier.cli.reading import Ending
    from verifier.studies.misconnecting import misconnections
    from verifier.studies.prove import UnknownName

    if search.engine is not None:
        raise click.UsageError("--engine has no part in --mistakes")
    teller = Teller(progress_if(progress), lines=False)
    with Ending(file):
        try:
            with interruptible():
                return misconnections(loaded, search, teller, parts)
        except UnknownName as error:
            raise click.UsageError(str(error)) from None
        finally:
            teller.rests()


def _show(
    form: Form,
    rows: str,
    hookup: Hookup,
    found: Misconnections | None,
    stories: bool,
    output: Path | None,
) -> None:
    from verifier.report.hookup import HookupDocument
    from verifier.report.hookup_text import hookup_text, parts_table, tubes_table
    from verifier.report.json import text_of
    from verifier.report.misconnections_text import misconnections_text
    from verifier.studies.modelling import CAUTIONS

    if form == "csv":
        table = parts_table(hookup, found) if rows == "parts" else tubes_table(hookup)
        deliver(table, output)
    elif form == "html":
        from verifier.pages.hookup import hookup_page

        deliver(hookup_page(hookup, CAUTIONS, found), output)
    elif form == "json":
        deliver(text_of(HookupDocument(hookup, found, CAUTIONS)), output)
    else:
        text = hookup_text(hookup, found)
        if found is not None:
            text += "\n" + misconnections_text(found, stories=stories)
        if output is None:
            print_text(text)
        else:
            deliver(text.encode(), output)


def _write_runs(folder: Path, found: Misconnections) -> None:
    from verifier.runs.read import SUFFIX
    from verifier.studies.told_runs import slug

    texts = {slug(one.words): one.judgement.run for one in found.told if one.judgement.run}
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileTrouble(f"{folder} cannot be made: {error.strerror}") from None
    for name, text in texts.items():
        write_whole(folder / f"{name}{SUFFIX}", text.encode())
    click.echo(f"{len(texts)} runs of wrong connections: {folder}", err=True)
