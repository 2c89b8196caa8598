"""A test procedure as a page that prints on A4, with a column for the result."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from verifier.report.commission import Procedure, SheetStep
from verifier.report.commission_text import LISTEN, looks_told, summary

_STYLE = """
@page { size: A4; margin: 15mm }
body { font: 10pt/1.35 sans-serif; color: #111; max-width: 190mm; margin: 1em auto; padding: 0 1em }
h1 { font-size: 15pt; margin: 0 0 .2em }
table { border-collapse: collapse; width: 100%; margin: 1em 0 }
th, td { border: 1px solid #888; padding: .25em .5em; text-align: left; vertical-align: top }
th { background: #eee }
tr { break-inside: avoid }
thead { display: table-header-group }
td.n { text-align: right; width: 2em }
td.result { width: 32mm }
.caution { border: 2px solid #a00; padding: .5em }
.sign td { height: 1.6em }
"""


def procedure_html(found: Procedure, cautions: tuple[str, ...]) -> str:
    """One file that needs nothing else."""
    return "\n".join(_page(found, cautions)) + "\n"


def _page(found: Procedure, cautions: tuple[str, ...]) -> Iterator[str]:
    name = escape(found.design)
    title = escape(found.title or found.design)
    yield "<!doctype html>"
    yield f'<html lang="en"><head><meta charset="utf-8"><title>Test of {name}</title>'
    yield f"<style>{_STYLE}</style></head><body>"
    revision = f", revision {escape(found.revision)}" if found.revision else ""
    yield f"<h1>Test of {name}: {title}{revision}</h1>"
    yield '<table class="sign"><tbody><tr><td>Trailer</td><td></td><td>Tested by</td><td></td>'
    yield "<td>Date</td><td></td></tr></tbody></table>"
    yield f"<p>{escape(LISTEN)}</p>"
    yield "<table><thead><tr><th>Step</th><th>Do</th><th>Look at</th><th>Must show</th>"
    yield "<th>Result</th></tr></thead><tbody>"
    for step in found.steps:
        yield from _rows(step)
    yield "</tbody></table>"
    for paragraph in summary(found):
        kind = ' class="caution"' if paragraph.startswith("CAUTION") else ""
        yield f"<p{kind}>{escape(paragraph)}</p>"
    for words in cautions:
        yield f"<p>{escape(words)}</p>"
    yield "</body></html>"


def _rows(step: SheetStep) -> Iterator[str]:
    looks = looks_told(step)
    span = max(1, len(looks))
    first = (
        f'<td class="n" rowspan="{span}">{step.number}</td>'
        f'<td rowspan="{span}">{escape(step.does)}</td>'
    )
    if not looks:
        yield f'<tr>{first}<td></td><td></td><td class="result"></td></tr>'
    for look in looks:
        yield (
            f"<tr>{first}<td>{escape(look.at)}</td><td>{escape(look.shows)}</td>"
            '<td class="result"></td></tr>'
        )
        first = ""
