"""`shutproof audit`: checks folders of evidence without any of the search that made them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.files import print_text
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.audit.outcome import Outcome

REJECTED, UNREADABLE, UNCHECKED = 1, 2, 3
PROVERS = ("z3", "cvc5", "drat")

_NOT_CHECKED = (
    "Not looked at: which sequences are the shortest, how the search went and how far, which parts "
    "a proof rests on."
)


@click.command("audit")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--digest",
    "digests",
    multiple=True,
    metavar="HEX",
    help="The digest that prove printed (one for each folder).",
)
@click.option(
    "--without",
    multiple=True,
    type=click.Choice(PROVERS),
    help="Leave out what this program would check (may be repeated).",
)
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    folder: Path,
    digests: tuple[str, ...],
    without: tuple[str, ...],
    limits: Limits,
) -> None:
    """Check what `shutproof prove --evidence` wrote: one folder, or all those in a folder.

    Files and digests, the circuit from the source, both translations of it, obligations, proofs
    by z3, by cvc5 and by a checker of DRAT proofs, the sequences by the simulator, and that every
    verdict has its evidence.

    Exit status: 0 accepted, 1 rejected, 2 no folder of evidence, 3 something could not be checked,
    70 a bug of shutproof itself. When several apply, the first of 70, 2, 1, 3 is given.
    """
    if len(set(without)) == len(PROVERS):
        raise click.UsageError("one program at least must check the proofs")
    from verifier.audit.audit import Wanted, audit
    from verifier.audit.folder import bundles_in
    from verifier.audit.outcome import NoBundle

    try:
        bundles = bundles_in(folder)
    except (NoBundle, OSError) as why:
        click.echo(str(why), err=True)
        ctx.exit(UNREADABLE)
    if digests and len(digests) != len(bundles):
        raise click.UsageError(f"{len(digests)} digests for {len(bundles)} folders")
    statuses = []
    for bundle in bundles:
        print_text(f"{bundle}\n")
        outcomes = []
        for outcome in audit(bundle, Wanted(tuple(d.lower() for d in digests), without), limits):
            outcomes.append(outcome)
            print_text(_line(outcome))
        statuses.append(_status(outcomes))
        print_text(f"  {_verdict(outcomes)}\n")
    print_text(f"{_NOT_CHECKED}\n")
    ctx.exit(next((one for one in (REJECTED, UNCHECKED) if one in statuses), 0))


def _line(outcome: Outcome) -> str:
    return f"  {outcome.step:<14}{outcome.status:<12}{outcome.words}".rstrip() + "\n"


def _status(outcomes: list[Outcome]) -> int:
    found = {outcome.status for outcome in outcomes}
    if "rejected" in found:
        return REJECTED
    return UNCHECKED if "unchecked" in found else 0


def _verdict(outcomes: list[Outcome]) -> str:
    status = _status(outcomes)
    if status == REJECTED:
        step = next(one.step for one in outcomes if one.status == "rejected")
        return f"Rejected, at {step}."
    open_steps = [one.step for one in outcomes if one.status in ("unchecked", "not reached")]
    if status == UNCHECKED:
        return f"Not all of it could be checked: {', '.join(open_steps)}."
    left = [one.step for one in outcomes if one.status == "left out"]
    return f"Accepted, without {', '.join(left)}." if left else "Accepted."
