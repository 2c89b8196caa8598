"""A page with nothing but a drawing: one file, no scripts, every sheet on paper of its own."""

from __future__ import annotations

import base64
import hashlib
from html import escape

from verifier.drawing.layout import Layout
from verifier.drawing.style import STYLE, plain_style
from verifier.drawing.svg import to_svg
from verifier.drawing.words import describe
from verifier.model.circuit import Circuit

PAGE_STYLE = """
body{margin:0;color:#111;background:#fff;font-family:"Liberation Sans",Arial,Helvetica,sans-serif}
@media (prefers-color-scheme:dark){body{color:#eee;background:#15181c}a{color:#9cf}}
h1{font-size:1.1rem;margin:1rem 10mm}nav,details{margin:.5rem 10mm}
section{padding:0 10mm 10mm;overflow-x:auto}
pre{white-space:pre-wrap;font:inherit}
@media print{body{color:#000;background:#fff}h1,nav,details{display:none}
section{padding:0;overflow:visible;break-after:page}section:last-of-type{break-after:auto}}
"""


def to_page(circuit: Circuit, layout: Layout) -> str:
    """The drawing as HTML, with what it shows in words below it."""
    title = escape(layout.title or layout.name)
    paper = f"@page{{size:{layout.paper} landscape;margin:10mm}}"
    style = STYLE + PAGE_STYLE + paper
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    sheets = [
        f'<section aria-label="Sheet {sheet.number}">'
        f"{to_svg(circuit, layout, sheet=sheet.number, style=False, live=False)}</section>"
        for sheet in layout.sheets
    ]
    numbers = [sheet.number for sheet in layout.sheets]
    links = ", ".join(f'<a href="#sheet-{n}">sheet {n}</a>' for n in numbers)
    return "\n".join(
        [
            "<!DOCTYPE html>",
            '<html lang="en"><head><meta charset="utf-8">',
            f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{title}</title><style>{style}</style></head>",
            f"<body><main><h1>{title}</h1>",
            f"<nav>{links}</nav>" if len(numbers) > 1 else "",
            *sheets,
            f"<details><summary>In words</summary><pre>{escape(describe(circuit))}</pre></details>",
            "</main></body></html>",
            "",
        ]
    )


def for_printing(circuit: Circuit, layout: Layout) -> str:
    """Only the sheets, without variables in the style, for programs that make PDF of HTML."""
    style = plain_style()
    pages = []
    for sheet in layout.sheets:
        drawn = to_svg(circuit, layout, sheet=sheet.number, style=False, live=False)
        svg = drawn.replace("<title>", f"<style>{style}</style><title>", 1)
        data = base64.b64encode(svg.encode()).decode()
        pages.append(f'<section><img alt="" src="data:image/svg+xml;base64,{data}"></section>')
    return (
        f'<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>'
        f"{escape(layout.title or layout.name)}</title><style>"
        f"@page{{size:{layout.paper} landscape;margin:10mm}}section{{break-after:page}}"
        f"section:last-of-type{{break-after:auto}}img{{display:block}}</style></head>"
        f"<body>{''.join(pages)}</body></html>"
    )
