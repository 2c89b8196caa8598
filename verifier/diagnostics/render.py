"""Diagnostics as plain text: the source line with marks below it, related places, the hint."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping

from msgspec import Struct

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.span import Span

WIDTH = 100  # columns of an excerpt
LEAD = 30  # columns kept before what is meant in a line that is too long
TAB = 4

_RESET, _BOLD, _RED, _YELLOW, _BLUE = "\x1b[0m", "\x1b[1m", "\x1b[1;31m", "\x1b[1;33m", "\x1b[34m"


class Cell(Struct, frozen=True):
    """One character of a source line as it is shown, and the columns that it takes."""

    shown: str
    width: int


def render(
    diagnostics: Iterable[Diagnostic], texts: Mapping[str, str], colour: bool = False
) -> str:
    """All diagnostics in the order given, a blank line between; `texts` maps files to contents."""
    lines = {file: text.split("\n") for file, text in texts.items()}
    return "\n".join(_one(diagnostic, lines, colour) for diagnostic in diagnostics)


def _one(diagnostic: Diagnostic, lines: Mapping[str, list[str]], colour: bool) -> str:
    error = diagnostic.severity == "error"
    tint = _RED if error else _YELLOW
    title = _tinted(f"{diagnostic.severity} {diagnostic.code}", tint, colour)
    message = _tinted(visible(diagnostic.message), _BOLD, colour)
    places = [diagnostic.span, *(span for span, _ in diagnostic.related)]
    gutter = max(len(str(span.line)) for span in places)
    out = [f"{_where(diagnostic.span)}: {title}: {message}"]
    out += _excerpt(diagnostic.span, lines, gutter, "^", tint, colour)
    for span, text in diagnostic.related:
        same = span.file == diagnostic.span.file
        where = f"line {span.line}" if same else _where(span)
        out.append(f"{' ' * gutter} = {where}: {visible(text)}")
        out += _excerpt(span, lines, gutter, "-", _BLUE, colour)
    if diagnostic.hint:
        out.append(f"{' ' * gutter} = hint: {visible(diagnostic.hint)}")
    return "\n".join(out) + "\n"


def visible(text: str) -> str:
    """The text with every character that could steer a terminal written out."""
    return "".join(cell.shown for cell in map(_cell, text))


def _tinted(text: str, tint: str, colour: bool) -> str:
    return f"{tint}{text}{_RESET}" if colour else text


def _where(span: Span) -> str:
    return f"{visible(span.file)}:{span.line}:{span.column}"


def _excerpt(
    span: Span, lines: Mapping[str, list[str]], gutter: int, mark: str, tint: str, colour: bool
) -> list[str]:
    """The first line of the span and the marks below it; nothing for a text that is not known."""
    known = lines.get(span.file, [])
    if not 0 < span.line <= len(known):
        return []
    source = known[span.line - 1]
    start = span.column - 1
    end = span.end_column - 1 if span.end_line == span.line else len(source.rstrip())
    end = max(end, start + 1)
    number = str(span.line).rjust(gutter)
    if _right_to_left(source):
        # Terminals order such a line each in their own way: marks below it would mislead.
        meant = visible(source[start:end])
        shown = "".join(cell.shown for cell in _window(source, start, end)[0])
        pointer = f"columns {start + 1} to {end}: {meant}" if meant else f"column {start + 1}"
        return [f"{number} | {shown}", f"{' ' * gutter} | {_tinted(pointer, tint, colour)}"]
    cells, start, end = _window(source, start, end)
    before = sum(cell.width for cell in cells[:start])
    under = sum(cell.width for cell in cells[start:end]) or 1
    marks = " " * before + _tinted(mark * under, tint, colour)
    shown = "".join(cell.shown for cell in cells).rstrip()
    return [f"{number} | {shown}", f"{' ' * gutter} | {marks}"]


def _window(source: str, start: int, end: int) -> tuple[list[Cell], int, int]:
    """The cells of a line that fit, with the place of the span among them."""
    if len(source) <= WIDTH:
        cells = [_cell(character) for character in source]
        if sum(cell.width for cell in cells) <= WIDTH:
            return cells, start, end
    first = max(0, start - LEAD)
    cells = [_cell(character) for character in source[first : first + WIDTH]]
    while sum(cell.width for cell in cells) > WIDTH:
        cells.pop()
    rest = first + len(cells) < len(source)
    start, end = start - first, min(end - first, len(cells))
    if first:
        cells.insert(0, Cell("…", 1))
        start, end = start + 1, end + 1
    if rest:
        cells.append(Cell("…", 1))
    return cells, start, end


def _right_to_left(source: str) -> bool:
    return not source.isascii() and any(
        unicodedata.bidirectional(character) in ("R", "AL") for character in source
    )


def _cell(character: str) -> Cell:
    if " " <= character <= "~":
        return Cell(character, 1)
    if character == "\t":
        return Cell(" " * TAB, TAB)
    category = unicodedata.category(character)
    if category in ("Mn", "Me"):
        return Cell(character, 0)
    if category[0] == "C" or category in ("Zl", "Zp"):
        written = f"<U+{ord(character):04X}>"
        return Cell(written, len(written))
    wide = unicodedata.east_asian_width(character) in ("W", "F")
    return Cell(character, 2 if wide else 1)
