"""The command `shutproof`."""

from __future__ import annotations

import click


@click.group()
def main() -> None:
    """Prove the air interlocks of tank trailers from their piping."""
