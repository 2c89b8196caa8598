"""`shutproof approve`: writes down that a design is approved, with what carries it."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import clock, options
from verifier.cli.files import FileTrouble, print_text, write_whole
from verifier.cli.progress import progress_if
from verifier.cli.telling import Teller
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.library.approvals import Approval
    from verifier.studies.options import Options

REFUSED, INVALID, UNDECIDED = 1, 2, 3


@click.command("approve")
@options.one_file
@click.option("--by", required=True, metavar="NAME", help="Who approves it.")
@click.option("--reason", required=True, metavar="TEXT", help="Why, or for what.")
@click.option(
    "--date",
    type=click.DateTime(["%Y-%m-%d"]),
    help="The day of the approval; today if none is given.",
)
@click.option(
    "--faults",
    "order",
    type=click.IntRange(min=0),
    metavar="ORDER",
    help="Count the cut sets of up to so many faults, too.",
)
@options.search
@options.progress
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    by: str,
    reason: str,
    date: datetime.datetime | None,
    order: int | None,
    search: Options,
    progress: bool | None,
    limits: Limits,
) -> None:
    """Prove a design and write down beside it, in approval.toml, that it is approved.

    The certificate that is written as well lets `shutproof regress` check every verdict again
    without a search.

    Exit status: 0 approved, 1 not all of it holds, 2 wrong usage, invalid source or files that
    cannot be written, 3 something is inconclusive, 70 a bug of shutproof itself.
    """
    from verifier.cli.reading import Ending
    from verifier.library.approving import Refused, not_before_the_last
    from verifier.studies.prove import UnknownName

    day = (clock.today() if date is None else date.date()).isoformat()
    teller = Teller(progress_if(progress), lines=False)
    try:
        if date is None:
            not_before_the_last(file, day)
        with Ending(file):
            told = _approved(file, (by, reason, day), order, search, limits, teller)
    except UnknownName as error:
        raise click.UsageError(str(error)) from None
    except Refused as why:
        click.echo(f"{file} is not approved: {why}", err=True)
        ctx.exit(UNDECIDED if why.undecided else REFUSED)
    except OSError as error:
        raise FileTrouble(f"{file.parent}: {error.strerror}") from None
    finally:
        teller.rests()
    replaces = f", in place of the approval {told.replaces[:16]}" if told.replaces else ""
    print_text(
        f"{file} is approved: {told.verdict}, circuit {told.circuit[:16]}{replaces}\n"
        f"certificate: {file.parent / told.certificate}\n"
    )


def _approved(
    file: Path,
    signed: tuple[str, str, str],
    order: int | None,
    search: Options,
    limits: Limits,
    teller: Teller,
) -> Approval:
    """Proved, its certificate checked as `regress` will, its cut sets counted if that is wanted,
    and all of it written down."""
    from verifier.audit.again import check_again
    from verifier.audit.claimed import by_both
    from verifier.audit.outcome import Unchecked
    from verifier.cli.reading import read
    from verifier.library.approving import Refused, approve, may_be_approved
    from verifier.studies.bundle import certificate_of
    from verifier.studies.faults import FaultOptions, faults
    from verifier.studies.prove import prove_and_keep

    loaded = read(file, limits)
    result, study = prove_and_keep(loaded, search, (), teller)
    may_be_approved(result)
    certificate = certificate_of(loaded, result, study)
    try:
        check_again(loaded.circuit, certificate, by_both)
    except Unchecked as why:
        raise Refused(str(why), undecided=True) from None
    counted = None if order is None else faults(loaded, FaultOptions(order), (), teller)
    teller.rests()
    return approve(file, loaded, result, certificate, counted, signed, write_whole)
