"""`shutproof schema`: the JSON Schemas that ship with the package."""

from __future__ import annotations

from pathlib import Path
from typing import cast

import click

from verifier.cli.files import deliver
from verifier.cli.options import output


@click.command("schema")
@click.argument(
    "document",
    type=click.Choice(
        ["circuit", "result", "lines", "evidence", "comparison", "faults", "library", "hookup"]
    ),
)
@output
def command(document: str, output: Path | None) -> None:
    """Print the JSON Schema of what `export --as circuit` or `prove --json` prints, of one line of
    `prove --json-lines`, of the manifest in a folder of evidence, or of what `compare --json` or
    `faults --json`
    prints."""
    from verifier.report.json import Document, schema_path

    deliver(schema_path(cast(Document, document)).read_bytes(), output)
