"""A drawing as SVG. Everything has stable attributes, so that a page can show another state.

- `<g data-part="NAME">` is the symbol of a part, `<g data-supply="NAME">` that of a supply;
- `<g class="moving" data-element="NAME" data-positions="in out" data-steps="0 10"
  data-position="0">` steps aside: give it `transform="translate(STEP 0)"`;
- `<g class="only" data-element="NAME" data-at="0 1">` is seen at these positions only: it has the
  class `off` at others;
- `<g class="line" data-line="NAME" data-volume="3" data-pressure="low">` is a line, and so are the
  ends of pilot lines inside `only`: put `data-pressure` (see `Pressure`) on all with its volume;
- `<g class="stream" data-way="0.5">` has the class `ahead` or `back` while something flows there;
- symbols and lines take the classes `moved`, `emphasised`, `added`, `removed`.
"""

from __future__ import annotations

from itertools import groupby
from xml.sax.saxutils import escape, quoteattr

from verifier.drawing.figure import (
    SMALL,
    Moving,
    Shape,
    Text,
    number,
    rectangle,
    shortened,
    width_of,
)
from verifier.drawing.layout import BLOCK, Frame, Layout, Link, Segment, Sheet, Symbol, Trace
from verifier.drawing.marks import Marks, streams
from verifier.drawing.style import STYLE
from verifier.drawing.words import describe
from verifier.model.circuit import Circuit

GAP = 12  # between sheets that stand one below the other
BADGES = (("trapped", "T"), ("contested", "!"))
SIGNS = (("added", "+"), ("removed", "−"))  # noqa: RUF001


def to_svg(
    circuit: Circuit,
    layout: Layout,
    marks: Marks | None = None,
    *,
    sheet: int | None = None,
    style: bool = True,
    live: bool = True,
    prefix: str | None = "",
) -> str:
    """One SVG of all sheets below each other, or of the one with this number.

    style: with the style sheet and with all of it in words (desc), to stand by itself; a page that
    has both can do without.
    prefix: of the ids of sheets, to which links lead; None: neither ids nor links, for a page that
    shows the same drawing several times.
    live: with everything that another state could show, hidden; else only what is seen now.
    """
    shown = Shown(circuit, marks or Marks(), live, prefix)
    chosen = [one for one in layout.sheets if sheet in (None, one.number)]
    width = max(one.width for one in chosen)
    height = sum(one.height + GAP for one in chosen) - GAP
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="circuit" viewBox="0 0 {width} {height}"'
        f' width="{number(width * layout.scale)}mm" height="{number(height * layout.scale)}mm"'
        f" {_role(layout, chosen, prefix)}>",
        f"<title>{escape(layout.title or layout.name)}</title>",
    ]
    if style:
        out.append(f"<desc>{escape(describe(circuit, shown.marks))}</desc>")
        out.append(f"<style>{STYLE}</style>")
    out.append(f'<rect class="ground" width="{width}" height="{height}"/>')
    y = 0
    for one in chosen:
        ids = "" if prefix is None else f'id="{prefix}sheet-{one.number}" '
        out.append(f'<g class="sheet" {ids}data-sheet="{one.number}" transform="translate(0 {y})">')
        out += _sheet(shown, one)
        out += _title_block(layout, one)
        out.append("</g>")
        y += one.height + GAP
    out.append("</svg>")
    return "\n".join(out) + "\n"


def _role(layout: Layout, sheets: list[Sheet], prefix: str | None) -> str:
    """One picture, or, where it has links in it, a group of what can be reached by itself."""
    linked = any(trace.links for sheet in sheets for trace in sheet.traces)
    if linked and prefix is not None:
        return f'role="group" aria-label={quoteattr(layout.title or layout.name)}'
    return 'role="img"'


class Shown:
    """A circuit with its marks, as sets to ask."""

    def __init__(self, circuit: Circuit, marks: Marks, live: bool, prefix: str | None) -> None:
        self.circuit, self.marks, self.live, self.prefix = circuit, marks, live, prefix
        self.streams = streams(circuit, marks)
        moved = {circuit.elements[element].part for element in marks.moved}
        self.parts = (
            ("moved", moved),
            ("emphasised", set(marks.emphasised)),
            ("added", set(marks.added)),
            ("removed", set(marks.removed)),
        )
        self.lines = (("added", set(marks.added_lines)), ("removed", set(marks.removed_lines)))

    def part_classes(self, part: int | None) -> str:
        return "".join(f" {name}" for name, parts in self.parts if part in parts)

    def line_attributes(self, volume: int) -> str:
        name = quoteattr(self.circuit.volumes[volume].name)
        pressures = self.marks.pressures
        pressure = f' data-pressure="{pressures[volume]}"' if pressures else ""
        classes = "".join(f" {look}" for look, volumes in self.lines if volume in volumes)
        return f'class="line{classes}" data-line={name} data-volume="{volume}"{pressure}'


def _sheet(shown: Shown, sheet: Sheet) -> list[str]:
    out = [_frame(frame) for frame in sheet.frames]
    out += [_trace(shown, trace) for trace in sheet.traces]
    out += [_symbol(shown, symbol) for symbol in sheet.symbols]
    return out


def _title_block(layout: Layout, sheet: Sheet) -> list[str]:
    """Title, design, revision and sheet, at the lower right corner."""
    of = f"sheet {sheet.number} of {len(layout.sheets)}"
    room = sheet.width - 4.0
    cells = [f"revision {layout.revision}" if layout.revision else "", of]
    fixed = [width_of(text, SMALL) + 4 for text in (layout.name, *cells)]
    title = shortened(layout.title, SMALL, max(10.0, room - sum(fixed) - 4))
    texts = [title, layout.name, *cells]
    out, x = [], sheet.width - 2.0
    y = sheet.height - BLOCK - 2
    for text in reversed([text for text in texts if text]):
        width = width_of(text, SMALL) + 4
        x -= width
        out.append(
            f'<path class="thin" d="{rectangle(x, y, width, BLOCK)}"/>'
            + _text(Text(x + 2, y + 4.2, text, SMALL, "start", "block"))
        )
    return out


def _frame(frame: Frame) -> str:
    rectangle = (
        f'<rect class="frame" x="{frame.x}" y="{frame.y}" width="{frame.width}"'
        f' height="{frame.height}" rx="1"/>'
    )
    return f"<g data-assembly={quoteattr(frame.assembly)}>{rectangle}{_text(frame.label)}</g>"


def _text(text: Text) -> str:
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    return (
        f'<text class="{text.look}" x="{number(text.x)}" y="{number(text.y)}"'
        f' font-size="{number(text.size)}"{anchor}>{escape(text.text)}</text>'
    )


def _paths(shapes: tuple[Shape, ...]) -> str:
    """Shapes in their order; neighbours with the same look are one path."""
    return "".join(
        f'<path class="{look}" d="{"".join(shape.d for shape in same)}"/>'
        for look, same in groupby(shapes, key=lambda shape: shape.look)
    )


def _run(shown: Shown, volume: int, look: str, d: str) -> str:
    """A line and, over it, the core that makes trapped air a double line."""
    if not d:
        return ""
    pressures = shown.marks.pressures
    double = shown.live or (pressures and pressures[volume].startswith("trapped"))
    inside = f'<path class="inside" d="{d}"/>' if double else ""
    return f'<path class="{look}" d="{d}"/>{inside}'


def _line(shown: Shown, volume: int, segments: tuple[Segment, ...], pilot: bool) -> str:
    d = "".join(
        f"M{s.x1} {s.y1}" + (f"V{s.y2}" if s.x1 == s.x2 else f"H{s.x2}")
        for s in segments
        if s.pilot == pilot
    )
    return _run(shown, volume, "pilot" if pilot else "work", d)


def _trace(shown: Shown, trace: Trace) -> str:
    inner = "".join(_line(shown, trace.volume, trace.segments, pilot) for pilot in (False, True))
    inner += "".join(f'<circle class="dot" cx="{x}" cy="{y}" r=".75"/>' for x, y in trace.dots)
    inner += "".join(_link(shown, link) for link in trace.links)
    inner += _text(trace.label) if trace.label else ""
    inner += _badges(shown, trace)
    title = f"<title>{escape(shown.circuit.volumes[trace.volume].name)}</title>"
    return f"<g {shown.line_attributes(trace.volume)}>{title}{inner}</g>"


def _link(shown: Shown, link: Link) -> str:
    """A pennant that points off the sheet, and a link to where the line goes on."""
    sign = -1 if link.at_left else 1
    d = f"M{link.x} {link.y - 1.2}h{2 * sign}l{1.4 * sign} 1.2l{-1.4 * sign} 1.2h{-2 * sign}Z"
    inner = f'<path class="hollow" d="{d}"/>{_text(link.text)}'
    if shown.prefix is None:
        return inner
    return f'<a href="#{shown.prefix}sheet-{link.to[0]}">{inner}</a>'


def _badges(shown: Shown, trace: Trace) -> str:
    """Letters for what a line's look could leave in doubt, in the middle of its longest piece."""
    state = shown.marks.pressures[trace.volume] if shown.marks.pressures else ""
    longest = max(trace.segments, key=lambda s: (s.x2 - s.x1 + s.y2 - s.y1, -s.y1, -s.x1))
    x, y = (longest.x1 + longest.x2) / 2, (longest.y1 + longest.y2) / 2
    out = ""
    for look, letter in BADGES:
        if not shown.live and not state.startswith(look):
            continue
        out += (
            f'<g class="badge {look}"><circle cx="{number(x)}" cy="{number(y)}" r="1.9"/>'
            f'<text x="{number(x)}" y="{number(y + 0.9)}" font-size="2.4" text-anchor="middle">'
            f"{letter}</text></g>"
        )
    for (look, volumes), (_, sign) in zip(shown.lines, SIGNS, strict=True):
        if trace.volume in volumes:
            out += (
                f'<g class="badge change {look}"><circle cx="{number(x)}" cy="{number(y)}"'
                f' r="1.9"/><text x="{number(x)}" y="{number(y + 1)}" font-size="3"'
                f' text-anchor="middle">{sign}</text></g>'
            )
    return out


def _symbol(shown: Shown, symbol: Symbol) -> str:
    circuit, figure = shown.circuit, symbol.figure
    classes = shown.part_classes(symbol.part)
    inner = [_halo(symbol)] if shown.live or classes else []
    inner.append(_paths(figure.shapes))
    inner += [_moving(shown, moving) for moving in figure.moving]
    inner += [_text(text) for text in figure.texts if text.text]
    for one in figure.streams:
        way = shown.streams.get(one.way)
        if not shown.live and way is None:
            continue
        look = "" if way is None else " ahead" if way else " back"
        ahead, back = (_paths(shapes) for shapes in (one.ahead, one.back))
        inner.append(
            f'<g class="stream{look}" data-way="{one.way[0]}.{one.way[1]}">'
            f'<g class="on-ahead">{ahead}</g><g class="on-back">{back}</g></g>'
        )
    if symbol.part is not None:
        part = circuit.parts[symbol.part]
        title = ": ".join(s for s in (part.name, part.kind_doc or part.kind, part.doc) if s)
        attribute = f"data-part={quoteattr(part.name)}"
    else:
        assert symbol.supply is not None
        supply = circuit.supplies[symbol.supply]
        title = ": ".join(s for s in (supply.name, supply.doc) if s)
        attribute = f"data-supply={quoteattr(supply.name)}"
    return (
        f'<g class="symbol{classes}" {attribute} transform="translate({symbol.x} {symbol.y})">'
        f"<title>{escape(title)}</title>{''.join(inner)}</g>"
    )


def _halo(symbol: Symbol) -> str:
    """An outline with a sign, seen only on symbols that are marked."""
    width, height = symbol.figure.width, symbol.figure.height
    signs = "".join(
        f'<text class="sign {look}" x="{width - 4}" y="{height - 1.4}" font-size="4">{sign}</text>'
        for look, sign in SIGNS
    )
    rectangle = (
        f'<rect x=".4" y=".4" width="{number(width - 0.8)}" height="{number(height - 0.8)}"'
        ' rx="1.5"/>'
    )
    return f'<g class="halo">{rectangle}{signs}</g>'


def _moving(shown: Shown, moving: Moving) -> str:
    element = shown.circuit.elements[moving.element]
    positions = shown.marks.positions
    at = positions[moving.element] if positions else moving.start
    name = quoteattr(element.name)
    out = ""
    if moving.shapes:
        step = moving.steps[at]
        turned = f' transform="translate({step} 0)"' if step else ""
        steps = " ".join(map(str, moving.steps))
        out += (
            f'<g class="moving" data-element={name}'
            f" data-positions={quoteattr(' '.join(element.positions))}"
            f' data-steps="{steps}" data-position="{at}"{turned}>' + _paths(moving.shapes) + "</g>"
        )
    for only in moving.only:
        off = "" if at in only.positions else " off"
        where = " ".join(map(str, only.positions))
        shapes = _paths(only.shapes)
        if shown.live or not off:
            out += f'<g class="only{off}" data-element={name} data-at="{where}">{shapes}</g>'
    for lead in moving.leads:
        look = "pilot" if lead.pilot else "work"
        for position, end in enumerate(lead.ends):
            off = "" if position == at else " off"
            if off and not shown.live:
                continue
            path = _run(shown, lead.volume, look, f"M{lead.x} {lead.y}H{number(end)}")
            out += (
                f'<g class="only{off}" data-element={name} data-at="{position}">'
                f"<g {shown.line_attributes(lead.volume)}>{path}</g></g>"
            )
    return out
