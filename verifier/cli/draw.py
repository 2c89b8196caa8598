"""`shutproof draw`: the circuit diagram of a design."""

from __future__ import annotations

from pathlib import Path

import click

from verifier.cli import options
from verifier.cli.files import deliver
from verifier.diagnostics.limits import Limits

FORMS = (".svg", ".html", ".pdf")


@click.command("draw")
@options.one_file
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write to this file: .svg, .html or .pdf. Without it, SVG goes to standard output.",
)
@click.option(
    "--sheet",
    type=click.IntRange(min=1),
    metavar="N",
    help="As SVG: only this sheet of a drawing with several.",
)
@options.limits
@click.pass_context
def command(
    ctx: click.Context, file: Path, output: Path | None, sheet: int | None, limits: Limits
) -> None:
    """Draw the circuit diagram of a design, after ISO 1219, as it stands at the start.

    A drawing that is too large for one sheet of A3 is split into sheets, and lines say on which
    sheet they go on. PDF needs the extra `pdf`.
    """
    from verifier.cli.reading import read_or_end

    form = ".svg" if output is None else output.suffix.lower()
    if form not in FORMS:
        raise click.UsageError(f"{output}: its name must end in .svg, .html or .pdf")
    if sheet is not None and form != ".svg":
        raise click.UsageError("--sheet is for SVG; other files have all sheets")
    loaded = read_or_end(file, limits)
    from verifier.drawing import lay_out, to_svg

    layout = lay_out(loaded.circuit)
    if sheet is not None and sheet > len(layout.sheets):
        raise click.UsageError(f"there are {len(layout.sheets)} sheets")
    if form == ".svg":
        content = to_svg(loaded.circuit, layout, sheet=sheet, live=False).encode()
    elif form == ".html":
        from verifier.drawing.page import to_page

        content = to_page(loaded.circuit, layout).encode()
    else:
        from verifier.drawing.pdf import PdfUnavailable, to_pdf

        try:
            content = to_pdf(loaded.circuit, layout)
        except PdfUnavailable as error:
            raise click.UsageError(
                f"PDF needs WeasyPrint: pip install 'shutproof[pdf]' ({error})"
            ) from None
    deliver(content, output)
