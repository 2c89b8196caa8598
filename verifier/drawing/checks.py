"""What is wrong with a drawing: found on the finished layout, by its own geometry.

Nothing here knows how a layout was made. A layout without faults has no symbols that overlap, no
line through a symbol, no lines that touch, every port met by its line, every label free and large
enough to be read on paper, and nothing slanted.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import combinations, pairwise

from msgspec import Struct

from verifier.drawing.figure import Box, Text
from verifier.drawing.layout import Layout, Segment, Sheet, Symbol, Trace
from verifier.drawing.paper import LEGIBLE
from verifier.model.circuit import Circuit

CELL = 32


class Flaw(Struct, frozen=True):
    """kind: the same for every such flaw.   about: what has it."""

    sheet: int
    kind: str
    about: str


class Measures(Struct, frozen=True):
    """crossings: of different lines.   bends: corners of lines, without joins.   unnamed: lines
    whose name found no place.   mm: length of all lines."""

    crossings: int
    bends: int
    unnamed: int
    length: int


def faults_of(circuit: Circuit, layout: Layout) -> tuple[Flaw, ...]:
    """Everything that is wrong with a layout, in a fixed order; empty when nothing is."""
    found: list[Flaw] = []
    for sheet in layout.sheets:
        found += [
            Flaw(sheet.number, kind, about)
            for kind, about in (
                *_overlaps(sheet),
                *_through(sheet),
                *_touching(sheet),
                *_ports(sheet),
                *_labels(sheet, layout.scale),
                *_outside(sheet),
            )
        ]
    return (*found, *_missing(circuit, layout))


def measures_of(layout: Layout) -> Measures:
    crossings = bends = unnamed = length = 0
    for sheet in layout.sheets:
        crossings += sum(1 for _ in _crossings(sheet))
        for trace in sheet.traces:
            ends: dict[tuple[int, int], list[bool]] = defaultdict(list)
            for s in trace.segments:
                ends[s.x1, s.y1].append(s.x1 == s.x2)
                ends[s.x2, s.y2].append(s.x1 == s.x2)
                length += s.x2 - s.x1 + s.y2 - s.y1
            bends += sum(1 for kinds in ends.values() if sorted(kinds) == [False, True])
            unnamed += trace.label is None and not trace.links
    return Measures(crossings, bends, unnamed, length)


def _near(boxes: list[tuple[Box, int]]) -> set[tuple[int, int]]:
    """Pairs of numbers whose boxes may meet."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for box, k in boxes:
        for cx in range(int(box.x // CELL), int((box.x + box.width) // CELL) + 1):
            for cy in range(int(box.y // CELL), int((box.y + box.height) // CELL) + 1):
                cells[cx, cy].append(k)
    return {pair for members in cells.values() for pair in combinations(members, 2)}


def _box(segment: Segment) -> Box:
    return Box(segment.x1, segment.y1, segment.x2 - segment.x1, segment.y2 - segment.y1)


def _called(symbol: Symbol) -> str:
    return f"part {symbol.part}" if symbol.part is not None else f"supply {symbol.supply}"


def _overlaps(sheet: Sheet) -> list[tuple[str, str]]:
    boxes = [(symbol.box, k) for k, symbol in enumerate(sheet.symbols)]
    return [
        ("symbols overlap", f"{_called(sheet.symbols[a])}, {_called(sheet.symbols[b])}")
        for a, b in sorted(_near(boxes))
        if boxes[a][0].meets(boxes[b][0])
    ]


def _pieces(sheet: Sheet) -> list[tuple[int, Segment]]:
    return [(trace.volume, segment) for trace in sheet.traces for segment in trace.segments]


def _through(sheet: Sheet) -> list[tuple[str, str]]:
    """Lines through what is solid of a symbol; they may end at its edge."""
    found = []
    pieces = _pieces(sheet)
    solids = [(box, symbol) for symbol in sheet.symbols for box in symbol.solid]
    boxes = [(_box(segment), k) for k, (_, segment) in enumerate(pieces)]
    boxes += [(box, len(pieces) + k) for k, (box, _) in enumerate(solids)]
    for a, b in sorted(_near(boxes)):
        if not a < len(pieces) <= b:
            continue
        line, solid = boxes[a][0], solids[b - len(pieces)][0]
        inner = Box(solid.x + 0.1, solid.y + 0.1, solid.width - 0.2, solid.height - 0.2)
        if line.meets(inner):
            about = f"line {pieces[a][0]}, {_called(solids[b - len(pieces)][1])}"
            found.append(("line through a symbol", about))
    return found


def _touching(sheet: Sheet) -> list[tuple[str, str]]:
    """Slanted pieces, and pieces of different lines that share more than a crossing."""
    pieces = _pieces(sheet)
    found = [
        ("slanted line", f"line {volume}") for volume, s in pieces if s.x1 != s.x2 and s.y1 != s.y2
    ]
    for a, b in sorted(_near([(_box(segment), k) for k, (_, segment) in enumerate(pieces)])):
        (one, s), (other, t) = pieces[a], pieces[b]
        if one == other or not _meet(s, t):
            continue
        if not _cross(s, t):
            found.append(("lines touch", f"line {one}, line {other}"))
    return found


def _meet(s: Segment, t: Segment) -> bool:
    return s.x1 <= t.x2 and t.x1 <= s.x2 and s.y1 <= t.y2 and t.y1 <= s.y2


def _cross(s: Segment, t: Segment) -> bool:
    """Whether two pieces meet at right angles, inside both."""
    if (s.x1 == s.x2) == (t.x1 == t.x2):
        return False
    upright, level = (s, t) if s.x1 == s.x2 else (t, s)
    return level.x1 < upright.x1 < level.x2 and upright.y1 < level.y1 < upright.y2


def _crossings(sheet: Sheet) -> list[tuple[int, int]]:
    pieces = _pieces(sheet)
    pairs = _near([(_box(segment), k) for k, (_, segment) in enumerate(pieces)])
    return [
        (pieces[a][0], pieces[b][0])
        for a, b in sorted(pairs)
        if pieces[a][0] != pieces[b][0] and _cross(pieces[a][1], pieces[b][1])
    ]


def _ports(sheet: Sheet) -> list[tuple[str, str]]:
    """Ports that their line does not meet; lines in several pieces; joins without a dot."""
    found = []
    mouths: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for symbol in sheet.symbols:
        for mouth in symbol.figure.mouths:
            mouths[mouth.volume].append((symbol.x + mouth.x, symbol.y + mouth.y))
    drawn = {trace.volume: trace for trace in sheet.traces}
    for volume in sorted(mouths):
        if volume not in drawn:
            if len(mouths[volume]) > 1:
                found.append(("line not drawn", f"line {volume}"))
            continue
        found += _connected(drawn[volume], mouths[volume])
    return found


def _connected(trace: Trace, mouths: list[tuple[int, int]]) -> list[tuple[str, str]]:
    joins: dict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    for s in trace.segments:
        joins[s.x1, s.y1].append((s.x2, s.y2))
        joins[s.x2, s.y2].append((s.x1, s.y1))
    found = [("port not met", f"line {trace.volume}") for place in mouths if place not in joins]
    start = next(iter(joins))
    seen, queue = {start}, [start]
    for here in queue:
        for other in joins[here]:
            if other not in seen:
                seen.add(other)
                queue.append(other)
    if len(seen) < len(joins):
        found.append(("line in pieces", f"line {trace.volume}"))
    dots = {place for place, others in joins.items() if len(others) > 2}
    if dots != set(trace.dots):
        found.append(("join without a dot", f"line {trace.volume}"))
    return found


def _texts(sheet: Sheet) -> list[tuple[Text, Box]]:
    found = [
        (text, text.box().moved(symbol.x, symbol.y))
        for symbol in sheet.symbols
        for text in symbol.figure.texts
        if text.text
    ]
    others = [trace.label for trace in sheet.traces if trace.label is not None]
    others += [link.text for trace in sheet.traces for link in trace.links]
    others += [frame.label for frame in sheet.frames]
    return found + [(text, text.box()) for text in others]


def _labels(sheet: Sheet, scale: float) -> list[tuple[str, str]]:
    """Labels too small to read, over each other, over symbols, or with a line through them."""
    texts = _texts(sheet)
    found = [("label too small", t.text) for t, _ in texts if t.size * scale < LEGIBLE]
    pieces = _pieces(sheet)
    solids = [(box, symbol) for symbol in sheet.symbols for box in symbol.solid]
    boxes = [(box, k) for k, (_, box) in enumerate(texts)]
    boxes += [(_box(s), len(texts) + k) for k, (_, s) in enumerate(pieces)]
    first_solid = len(texts) + len(pieces)
    boxes += [(box, first_solid + k) for k, (box, _) in enumerate(solids)]
    for a, b in sorted(_near(boxes)):
        if a >= len(texts) or not boxes[a][0].meets(boxes[b][0]):
            continue
        said = texts[a][0].text
        if b < len(texts):
            found.append(("labels overlap", f"{said}, {texts[b][0].text}"))
        elif b < first_solid:
            found.append(("line through a label", f"{said}, line {pieces[b - len(texts)][0]}"))
        elif texts[a][0].look in ("line", "frame"):
            found.append(("label over a symbol", said))
    return found


def _outside(sheet: Sheet) -> list[tuple[str, str]]:
    boxes = [symbol.box for symbol in sheet.symbols] + [box for _, box in _texts(sheet)]
    boxes += [_box(segment) for _, segment in _pieces(sheet)]
    return [
        ("outside the sheet", f"{box.x} {box.y}")
        for box in boxes
        if box.x < 0
        or box.y < 0
        or box.x + box.width > sheet.width
        or box.y + box.height > sheet.height
    ]


def _missing(circuit: Circuit, layout: Layout) -> list[Flaw]:
    """Parts and supplies that are not drawn, or twice; lines that are cut and not linked."""
    found = []
    parts = [s.part for sheet in layout.sheets for s in sheet.symbols if s.part is not None]
    supplies = [s.supply for sheet in layout.sheets for s in sheet.symbols if s.supply is not None]
    if sorted(parts) != list(range(len(circuit.parts))):
        found.append(Flaw(0, "parts not drawn once each", ""))
    if sorted(supplies) != list(range(len(circuit.supplies))):
        found.append(Flaw(0, "supplies not drawn once each", ""))
    where: dict[int, list[int]] = defaultdict(list)
    for sheet in layout.sheets:
        for trace in sheet.traces:
            where[trace.volume].append(sheet.number)
    linked = {
        (trace.volume, sheet.number, to)
        for sheet in layout.sheets
        for trace in sheet.traces
        for link in trace.links
        for to in link.to
    }
    for volume, sheets in sorted(where.items()):
        for a, b in pairwise(sheets):
            if (volume, a, b) not in linked or (volume, b, a) not in linked:
                found.append(Flaw(a, "line goes on without a link", f"line {volume}"))
    return found
