"""`shutproof export`: the circuit, its proof obligations, or its questions, for other programs."""

from __future__ import annotations

from pathlib import Path

import click

from verifier.cli import options
from verifier.cli.files import deliver
from verifier.diagnostics.limits import Limits
from verifier.studies.options import Options


@click.command("export")
@options.one_file
@click.option(
    "--as",
    "form",
    type=click.Choice(["circuit", "smt2", "aiger", "aiger-text"]),
    required=True,
    help="The circuit as JSON, the proof obligations as SMT-LIB 2, or the questions as AIGER 1.9.",
)
@click.option(
    "--combined",
    is_flag=True,
    help="As AIGER: one bad state for all questions together, not one for each.",
)
@options.output
@options.search
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    form: str,
    combined: bool,
    output: Path | None,
    search: Options,
    limits: Limits,
) -> None:
    """Print a design's circuit, its proof obligations, or its questions for a model checker.

    The obligations are those of the properties that hold: unsat is the answer to each check-sat
    when the proof is right. An AIGER file has a bad state for each case of never, always and order
    and for no contest.
    """
    from verifier.cli.reading import Ending, read

    with Ending(file):
        loaded = read(file, limits)
        if form == "circuit":
            from verifier.report.json import circuit_text

            deliver(circuit_text(loaded.circuit), output)
        elif form in ("aiger", "aiger-text"):
            from verifier.studies.aiger import Form, aiger_file

            wanted = Form(binary=form == "aiger", combined=combined)
            deliver(aiger_file(loaded, wanted), output)
        else:
            from verifier.studies.obligations import obligations_text

            deliver(obligations_text(loaded, search).encode(), output)
