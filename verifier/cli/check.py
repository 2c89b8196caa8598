"""`shutproof check`: mistakes of designs, without proving anything."""

from __future__ import annotations

from pathlib import Path

import click

from verifier.cli import options
from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits


@click.command("check")
@options.files
@click.option("--strict", is_flag=True, help="Warnings count as errors.")
@options.limits
@click.pass_context
def command(ctx: click.Context, files: tuple[Path, ...], strict: bool, limits: Limits) -> None:
    """Look for mistakes in designs without proving anything.

    Mistakes go to standard error. Exit status: 0 no errors, 2 errors.
    """
    from verifier.cli.reading import read, show, show_limit

    status = 0
    for path in files:
        try:
            read(path, limits, strict=strict)
        except SourceError as error:
            show(error.diagnostics, error.texts)
            status = 2
        except LimitError as error:
            show_limit(path, error)
            status = 2
    ctx.exit(status)
