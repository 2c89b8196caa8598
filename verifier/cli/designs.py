"""`shutproof designs`: where the approved designs lie that come with the package."""

from __future__ import annotations

import click

from verifier.shipped import specs_folder


@click.command("designs")
def command() -> None:
    """List the files of the approved designs, one path a line.

    Copy one to start a design of your own, or prove them all:
    shutproof prove $(shutproof designs)
    """
    for path in sorted(specs_folder().glob("*/*.ilk")):
        click.echo(str(path))
