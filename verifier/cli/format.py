"""`shutproof format`: the canonical layout, comments kept."""

from __future__ import annotations

from pathlib import Path

import click

from verifier.cli import options
from verifier.cli.files import print_text, write_whole
from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits


@click.command("format")
@options.files
@click.option("--check", is_flag=True, help="Print nothing; status 1 if a file would change.")
@click.option("--write", is_flag=True, help="Rewrite the files in place instead of printing.")
@options.limits
@click.pass_context
def command(
    ctx: click.Context, files: tuple[Path, ...], check: bool, write: bool, limits: Limits
) -> None:
    """Print designs in the canonical layout, with every comment.

    Exit status: 0 done or nothing to change, 1 with --check if a file would change, 2 errors.
    """
    from verifier.cli.reading import read_source, show, show_limit
    from verifier.syntax.layout import layout
    from verifier.syntax.parse import parse

    if check and write:
        raise click.UsageError("--check and --write exclude each other")
    status = 0
    for path in files:
        try:
            text = read_source(path, limits)
            laid_out = layout(parse(text, path.as_posix(), limits))
        except SourceError as error:
            show(error.diagnostics, error.texts)
            status = 2
            continue
        except LimitError as error:
            show_limit(path, error)
            status = 2
            continue
        if check:
            if laid_out != text:
                click.echo(f"{path} is not in the canonical layout", err=True)
                status = max(status, 1)
        elif write:
            if laid_out != text:
                write_whole(path, laid_out.encode())
        else:
            print_text(laid_out)
    ctx.exit(status)
