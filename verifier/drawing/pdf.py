"""The one door to the maker of PDF."""

from __future__ import annotations

from verifier.drawing.layout import Layout
from verifier.drawing.page import for_printing
from verifier.model.circuit import Circuit


class PdfUnavailable(Exception):
    """The extra for PDF is not installed, or a library that it needs is not there."""


def to_pdf(circuit: Circuit, layout: Layout) -> bytes:
    """The drawing on paper, a page for each sheet. Raises `PdfUnavailable`."""
    try:
        import weasyprint
    except (ImportError, OSError) as error:
        raise PdfUnavailable(str(error)) from None
    found: bytes = weasyprint.HTML(string=for_printing(circuit, layout)).write_pdf()
    return found
