"""`shutproof prove`: verdicts on standard output, diagnostics on standard error."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.evidence import Keeping
from verifier.cli.files import deliver, print_text, write_whole
from verifier.cli.progress import progress_if
from verifier.cli.telling import Teller
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.report.result import DesignResult, Refused, Result, Verdict
    from verifier.studies.options import Options

_COLOURS = {
    "holds": "green",
    "violated": "red",
    "vacuous": "red",
    "inconclusive": "yellow",
    "delay dependent": "yellow",
}


@click.command("prove")
@options.files
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
@click.option("--json-lines", is_flag=True, help="Print each answer as JSON when it is there.")
@click.option(
    "--property",
    "properties",
    multiple=True,
    metavar="NAME",
    help="Only this property (may be repeated).",
)
@options.search
@click.option("--all", "every_case", is_flag=True, help="Tell a run for every case of a property.")
@click.option("--cores", is_flag=True, help="Tell what each proof rests on, and what on nothing.")
@click.option(
    "--witness", is_flag=True, help="Tell how that happens of which properties that hold speak."
)
@click.option("--strict", is_flag=True, help="Warnings count as errors.")
@click.option("--races-fail", is_flag=True, help="A delay dependent design is a failure: status 1.")
@options.progress
@click.option("--timings", is_flag=True, help="Tell the seconds of each design on standard error.")
@click.option(
    "--evidence",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="Write for each design a folder below DIR with all that `shutproof audit` checks.",
)
@click.option(
    "--runs",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="Write every sequence that is told as a .run file for `shutproof operate`, below DIR.",
)
@options.sarif
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    files: tuple[Path, ...],
    as_json: bool,
    json_lines: bool,
    properties: tuple[str, ...],
    search: Options,
    witness: bool,
    strict: bool,
    races_fail: bool,
    progress: bool | None,
    timings: bool,
    evidence: Path | None,
    runs: Path | None,
    sarif: Path | None,
    output: Path | None,
    limits: Limits,
) -> None:
    """Prove every property of designs, or tell the shortest way to break it.

    Exit status: 0 all hold, 1 one is violated or vacuous, 2 wrong usage or invalid source,
    3 one is inconclusive, 70 a bug of shutproof itself (then no verdict is given). When several
    apply, the first of 70, 2, 1, 3 is given. Being delay dependent is told and changes nothing,
    unless --races-fail is given.
    """
    from verifier.report.result import Result, exit_status
    from verifier.report.text import closing_text
    from verifier.studies.modelling import CAUTIONS

    _exclude({"--json": as_json, "--json-lines": json_lines})
    _exclude({"--json-lines": json_lines, "--output": output is not None})
    designs: list[DesignResult] = []
    refused: list[Refused] = []
    text: list[str] = []
    keeping = Keeping(evidence, runs)
    teller = Teller(progress_if(progress), lines=json_lines)
    for path in files:
        began = time.perf_counter()
        answer = _answer(path, properties, search, strict, limits, refused, keeping, teller)
        if answer is not None:
            designs.append(answer)
            teller.finishes(answer)
            if not as_json and not json_lines:
                text.append(_show(answer, output, first=not text, witness=witness))
        else:
            teller.refuses(refused[-1])
        if timings:
            click.echo(f"{path}: {time.perf_counter() - began:.2f} s", err=True)
    status = exit_status(designs, refused, races_fail=races_fail)
    result = Result(tuple(designs), tuple(refused), status, CAUTIONS)
    if sarif is not None:
        from verifier.report.sarif import sarif_of_result

        write_whole(sarif, sarif_of_result(result))
    if json_lines:
        teller.ends(result)
    else:
        _finish(result, as_json, text, closing_text(result, witness=witness), output)
    ctx.exit(result.exit_status)


def _exclude(given: dict[str, bool]) -> None:
    """Options that make no sense together."""
    if all(given.values()):
        raise click.UsageError(f"{' and '.join(given)} exclude each other")


def _answer(
    path: Path,
    properties: tuple[str, ...],
    search: Options,
    strict: bool,
    limits: Limits,
    refused: list[Refused],
    keeping: Keeping,
    teller: Teller,
) -> DesignResult | None:
    """The verdicts, or None when the file is refused; then it is the last of `refused`."""
    from verifier.cli.reading import noting, read
    from verifier.studies.prove import UnknownName

    try:
        with noting(path, refused):
            loaded = read(path, limits, strict=strict)
            teller.reads(next(iter(loaded.texts), ""))
            return keeping.prove(loaded, search, properties, teller)
    except UnknownName as error:
        raise click.UsageError(f"{path}: {error}") from None
    finally:
        teller.rests()
    return None


def _show(design: DesignResult, output: Path | None, *, first: bool, witness: bool) -> str:
    """The text of one design; printed at once when it does not go to a file."""
    from verifier.cli.reading import wants_colour
    from verifier.report.text import design_text, plain

    gap = "" if first else "\n"
    if output is None:
        paint = _painted if wants_colour(sys.stdout.isatty()) else plain
        text = design_text(design, paint, witness=witness)
        print_text(gap + text)
    return gap + design_text(design, witness=witness)


def _painted(verdict: Verdict, word: str) -> str:
    return click.style(word, fg=_COLOURS[verdict], bold=True)


def _finish(
    result: Result, as_json: bool, text: list[str], closing: str, output: Path | None
) -> None:
    from verifier.report.json import text_of

    if as_json:
        deliver(text_of(result), output)
    elif output is None:
        print_text(closing)
    else:
        deliver(("".join(text) + closing).encode(), output)
