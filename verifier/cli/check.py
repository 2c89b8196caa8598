"""`shutproof check`: mistakes of designs, without proving anything."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.report.result import Refused


@click.command("check")
@options.files
@click.option("--strict", is_flag=True, help="Warnings count as errors.")
@options.limits
@click.pass_context
def command(ctx: click.Context, files: tuple[Path, ...], strict: bool, limits: Limits) -> None:
    """Look for mistakes in designs without proving anything.

    Mistakes go to standard error. Exit status: 0 no errors, 2 errors.
    """
    from verifier.cli.reading import INVALID, noting, read

    refused: list[Refused] = []
    for path in files:
        with noting(path, refused):
            read(path, limits, strict=strict)
    ctx.exit(INVALID if refused else 0)
