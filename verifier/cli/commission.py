"""`shutproof commission`: a procedure that tests a finished trailer."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.files import deliver, print_text
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.circuit import Circuit
    from verifier.report.commission import Procedure
    from verifier.studies.commission import Asked


@click.command("commission")
@options.one_file
@click.option(
    "--visible",
    multiple=True,
    metavar="PART",
    help="Somebody can see where this part stands; `vent` is every vent (repeatable).",
)
@click.option(
    "--without", multiple=True, metavar="PART", help="The tester does not touch this (repeatable)."
)
@click.option(
    "--hazard",
    multiple=True,
    metavar="NAME",
    help="A property that must not be broken meanwhile; else all that speak of product flowing.",
)
@click.option("--mistakes/--no-mistakes", default=True, help="Wrong connections, too.")
@click.option("--reveals", is_flag=True, help="Name the faults that each step reveals.")
@click.option("--html", "as_html", is_flag=True, help="A page that prints on A4.")
@click.option("--csv", "as_csv", is_flag=True, help="A table to fill in (see diagnose --sheet).")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    visible: tuple[str, ...],
    without: tuple[str, ...],
    hazard: tuple[str, ...],
    mistakes: bool,
    reveals: bool,
    as_html: bool,
    as_csv: bool,
    as_json: bool,
    output: Path | None,
    limits: Limits,
) -> None:
    """Writes the test sheet of a finished trailer: what to do, what to look at, what it must show.

    A step reveals a fault, or a wrong connection, if the trailer with it cannot show what a sound
    one always shows there, whatever moves first. The fault is there from the beginning, and acts.
    What no procedure is sure to reveal is named, and what can get through this one.

    Exit status: 0 a sheet was made, 2 wrong usage or invalid input, 70 a bug of shutproof itself.
    """
    from verifier.cli.reading import read_or_end

    if as_html + as_csv + as_json > 1:
        raise click.UsageError("give one of --html, --csv and --json")
    loaded = read_or_end(file, limits)
    found = _procedure(loaded.circuit, str(file), (visible, without, hazard), mistakes)
    text = _text(found, reveals, as_html, as_csv, as_json)
    if output is None:
        print_text(text)
    else:
        deliver(text.encode(), output)


def _procedure(
    circuit: Circuit, file: str, named: tuple[tuple[str, ...], ...], mistakes: bool
) -> Procedure:
    from verifier.model.strikes import strikes
    from verifier.studies.commission import commission
    from verifier.studies.walks import LostTheWay
    from verifier.studies.wrong_strikes import wrong_strikes

    wrong, others = wrong_strikes(circuit) if mistakes else ((), ())
    asked = _asked(circuit, named, tuple(one.name for one in wrong), others)
    try:
        return commission(circuit, (*strikes(circuit), *wrong), asked, file)
    except LostTheWay as error:
        raise click.ClickException(str(error)) from None


def _asked(
    circuit: Circuit,
    named: tuple[tuple[str, ...], ...],
    wrong: tuple[str, ...],
    others: tuple[str, ...],
) -> Asked:
    from verifier.studies.commission import Asked
    from verifier.studies.hazards import hazards_of

    visible, without, hazard = named
    try:
        hazards = hazards_of(circuit, hazard)
    except ValueError as error:
        raise click.UsageError(str(error)) from None
    seen = [
        e for name in visible for part in _parts(circuit, name) for e in _elements(circuit, part)
    ]
    hands = [
        h for name in without for part in _parts(circuit, name) for h in circuit.parts[part].hands
    ]
    own = len(circuit.elements)
    return Asked(tuple(seen), tuple(own + h for h in hands), hazards, wrong, others)


def _elements(circuit: Circuit, part: int) -> tuple[int, ...]:
    return circuit.parts[part].elements


def _parts(circuit: Circuit, name: str) -> list[int]:
    """The part, or all of a family."""
    found = [
        number
        for number, part in enumerate(circuit.parts)
        if name in (part.name, re.sub(r"\[[^]]*\]", "", part.name))
    ]
    if not found:
        raise click.UsageError(f"there is no part `{name}`")
    return found


def _text(found: Procedure, reveals: bool, as_html: bool, as_csv: bool, as_json: bool) -> str:
    from verifier.report.commission import ProcedureResult
    from verifier.report.commission_html import procedure_html
    from verifier.report.commission_text import procedure_csv, procedure_text
    from verifier.report.json import text_of
    from verifier.studies.modelling import CAUTIONS

    if as_html:
        return procedure_html(found, CAUTIONS)
    if as_csv:
        return procedure_csv(found)
    if as_json:
        return text_of(ProcedureResult(found, CAUTIONS)).decode()
    return procedure_text(found, reveals=reveals) + "\n" + "\n".join(CAUTIONS) + "\n"
