"""`shutproof faults`: which faults are enough to break a design."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.duration import hours
from verifier.cli.files import deliver, print_text
from verifier.cli.interrupting import INTERRUPTED, interruptible
from verifier.cli.progress import progress_if
from verifier.cli.telling import Teller
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.report.faults import DesignFaults, FaultsResult
    from verifier.report.result import Refused
    from verifier.studies.faults import FaultOptions


@click.command("faults")
@options.files
@click.option(
    "--order",
    type=click.IntRange(min=0),
    default=1,
    show_default=True,
    metavar="N",
    help="Sets of up to so many faults.",
)
@click.option(
    "--property",
    "properties",
    multiple=True,
    metavar="NAME",
    help="Only this property (may be repeated).",
)
@click.option(
    "--story",
    "stories",
    multiple=True,
    metavar="SET",
    help='Tell how this set breaks it: names with " + " between them (may be repeated).',
)
@click.option(
    "--stories", "every_story", is_flag=True, help="Tell a story of one set of each group."
)
@click.option("--expand", is_flag=True, help="List every member of a group.")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
@click.option(
    "--both-translations",
    "both",
    is_flag=True,
    help="Compare both translations of the circuit with all its faults, which takes long.",
)
@click.option(
    "--mission",
    callback=hours,
    metavar="TIME",
    help='Also numbers, from the rates in the design: for a use of, say, "20 years".',
)
@click.option(
    "--interval",
    callback=hours,
    metavar="TIME",
    help="Inspections in the mission, each of which finds and mends all faults.",
)
@click.option(
    "--sleeping",
    is_flag=True,
    help="Also which faults nobody can see before they are needed, which takes long.",
)
@click.option("--conflicts", type=click.IntRange(min=1), metavar="N", help="Budget of each order.")
@click.option("--depth", type=click.IntRange(min=0), metavar="N", help="Budget: steps.")
@click.option("--strict", is_flag=True, help="Warnings count as errors.")
@options.progress
@click.option("--timings", is_flag=True, help="Tell the seconds of each design on standard error.")
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    files: tuple[Path, ...],
    order: int,
    properties: tuple[str, ...],
    stories: tuple[str, ...],
    every_story: bool,
    expand: bool,
    as_json: bool,
    both: bool,
    mission: float | None,
    interval: float | None,
    sleeping: bool,
    conflicts: int | None,
    depth: int | None,
    strict: bool,
    progress: bool | None,
    timings: bool,
    output: Path | None,
    limits: Limits,
) -> None:
    """Finds all sets of faults that break a property, with a proof that there are no others.

    A set is told if none of its faults can be spared. What is known when the budget is used up, or
    when it is interrupted (Ctrl-C; a second one ends it at once), is told, too: up to which order
    the sets are proved to be all.

    Exit status: 0 no set of up to that many faults breaks anything, which is proved, 1 some set
    does, or something is broken although nothing fails, 2 wrong usage or invalid source, 3 it is
    not all known, 70 a bug of shutproof itself, 130 interrupted. When several apply, the first of
    70, 130, 2, 1, 3 is given.
    """
    from verifier.report.faults import FaultsResult, exit_status
    from verifier.report.faults_text import faults_text
    from verifier.studies.faults import FaultOptions
    from verifier.studies.modelling import CAUTIONS

    period = _period(mission, interval)
    named = tuple(map(_names, stories))
    search = FaultOptions(order, conflicts, depth, named, every_story, both, sleeping)
    told: list[DesignFaults] = []
    refused: list[Refused] = []
    text: list[str] = []
    for path in files:
        began = time.perf_counter()
        answer = _answer(path, properties, search, period, strict, limits, refused, progress)
        if answer is not None:
            told.append(answer)
            text.append(("\n" if text else "") + faults_text(answer, expand=expand))
            if not as_json and output is None:
                print_text(text[-1])
        if timings:
            click.echo(f"{path}: {time.perf_counter() - began:.2f} s", err=True)
        if answer is not None and answer.interrupted:
            break
    result = FaultsResult(tuple(told), tuple(refused), exit_status(told, refused), CAUTIONS)
    _finish(result, as_json, text, output)
    interrupted = any(design.interrupted for design in told)
    ctx.exit(INTERRUPTED if interrupted else result.exit_status)


def _finish(result: FaultsResult, as_json: bool, text: list[str], output: Path | None) -> None:
    from verifier.report.faults_text import faults_closing
    from verifier.report.json import text_of

    if as_json:
        deliver(text_of(result), output)
    elif output is None:
        print_text(faults_closing(result))
    else:
        deliver(("".join(text) + faults_closing(result)).encode(), output)


def _period(mission: float | None, interval: float | None) -> tuple[float, float | None] | None:
    if mission is None:
        if interval is not None:
            raise click.UsageError("--interval needs a --mission")
        return None
    if interval is not None and interval > mission:
        raise click.UsageError("--interval is longer than the --mission")
    return mission, interval


def _names(told: str) -> tuple[str, ...]:
    return tuple(name.strip() for name in told.split(" + "))


def _answer(
    path: Path,
    properties: tuple[str, ...],
    search: FaultOptions,
    period: tuple[float, float | None] | None,
    strict: bool,
    limits: Limits,
    refused: list[Refused],
    progress: bool | None,
) -> DesignFaults | None:
    """What is known, or None when the file is refused; then it is the last of `refused`."""
    from verifier.cli.reading import noting, read
    from verifier.studies.faults import faults
    from verifier.studies.prove import UnknownName

    teller = Teller(progress_if(progress), lines=False)
    try:
        with noting(path, refused):
            loaded = read(path, limits, strict=strict)
            with interruptible():
                found = faults(loaded, search, properties, teller)
            if period is None:
                return found
            from verifier.risk.numbers import Period
            from verifier.studies.fault_numbers import numbered

            return numbered(found, loaded.circuit, Period(*period))
    except UnknownName as error:
        raise click.UsageError(f"{path}: {error}") from None
    finally:
        teller.rests()
    return None
