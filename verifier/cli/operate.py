"""`shutproof operate`: a circuit worked by hand in the terminal, and runs carried out as tests."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.diagnostics.diagnostic import SourceError
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.circuit import Circuit
    from verifier.report.result import Refused
    from verifier.runs.script import Script

RUN_FILE = click.Path(path_type=Path, dir_okay=False)


@click.command("operate")
@options.one_file
@click.option(
    "--script",
    "scripts",
    multiple=True,
    type=RUN_FILE,
    metavar="RUN",
    help="Carry out this .run file and check what it expects (may be repeated).",
)
@click.option(
    "--begin-with",
    type=RUN_FILE,
    metavar="RUN",
    help="Carry out this .run file, then go on by hand.",
)
@click.option(
    "--seed",
    type=click.IntRange(min=0),
    metavar="N",
    help="While one waits, draw the order of moves from this seed.",
)
@click.option(
    "--orders",
    type=click.IntRange(min=1),
    default=1,
    show_default=True,
    metavar="N",
    help="Carry scripts out in so many orders, those of the seeds from --seed on.",
)
@click.option("--quiet", is_flag=True, help="Of scripts tell only whether they came out.")
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    scripts: tuple[Path, ...],
    begin_with: Path | None,
    seed: int | None,
    orders: int,
    quiet: bool,
    limits: Limits,
) -> None:
    """Work the circuit of FILE by hand: pull, push, connect, let air fail, strike faults; see what
    moves and why, what may come next, go back, save it all as a .run file. `help` tells how.

    Exit status: 0 all went as expected, 1 something did not, 2 wrong usage, an invalid file, or a
    line that was not understood.
    """
    if scripts and begin_with is not None:
        raise click.UsageError("--script and --begin-with exclude each other")
    if orders > 1 and not scripts:
        raise click.UsageError("--orders is about a --script")
    from verifier.cli.reading import read_or_end

    circuit = read_or_end(file, limits).circuit
    if scripts:
        worst = [_carry_out(circuit, one, limits, seed, orders, quiet) for one in scripts]
        ctx.exit(2 if 2 in worst else max(worst))
    from verifier.cli.session import work

    heading = None if begin_with is None else _read(begin_with, limits)
    if begin_with is not None and heading is None:
        ctx.exit(2)
    ctx.exit(work(circuit, heading, begin_with, seed, limits))


def _read(path: Path, limits: Limits) -> tuple[Script, str] | None:
    """The script with its text; None if it is none, which is told."""
    from verifier.cli.reading import noting, read_source
    from verifier.runs.read import read_run

    refused: list[Refused] = []
    with noting(path, refused):
        text = read_source(path, limits)
        return read_run(text, path.as_posix(), limits), text
    return None


def _carry_out(
    circuit: Circuit, path: Path, limits: Limits, seed: int | None, orders: int, quiet: bool
) -> int:
    """Status 0, 1 or 2 of one script, in all orders that were asked for."""
    from verifier.cli.files import print_text
    from verifier.cli.reading import show
    from verifier.report.text import wrapped
    from verifier.studies.carrying_out import carried_out, run_lines, verdict

    read = _read(path, limits)
    if read is None:
        return 2
    script, text = read
    first = 0 if seed is None and orders > 1 else seed
    for number in range(orders):
        order = None if first is None else first + number
        try:
            played = carried_out(circuit, script, order)
        except SourceError as error:
            show(error.diagnostics, {path.as_posix(): text})
            return 2
        if not quiet and number == 0:
            print_text("\n".join(run_lines(played, script, wrapped)) + "\n")
        if played.problems:
            print_text(f"{path}: {verdict(played, script)}{_seeded(order)}.\n")
            sys.stdout.flush()
            show(played.problems, {path.as_posix(): text})
            return 1
    told = f", in {orders} orders" if orders > 1 else _seeded(first)
    print_text(f"{path}: {verdict(played, script)}{told}.\n")
    return 0


def _seeded(order: int | None) -> str:
    return "" if order is None else f", moves in the order of seed {order}"
