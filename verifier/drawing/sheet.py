"""One sheet: everything that is drawn on it, in its place."""

from __future__ import annotations

import math

from msgspec.structs import replace

from verifier.drawing.figure import NAME, SMALL, Text, shortened, width_of
from verifier.drawing.figures import figure_of
from verifier.drawing.frames import HEAD, SIDE, Outline, outlines_of, pads_of
from verifier.drawing.improving import best_route
from verifier.drawing.labels import frame_label, line_label, taken_by
from verifier.drawing.layout import BLOCK, Frame, Link, Sheet, Symbol, Trace
from verifier.drawing.lines import segments_of
from verifier.drawing.names import frame_name, line_name, part_name
from verifier.drawing.nets import Net, Outside
from verifier.drawing.placing import Placement
from verifier.drawing.routing import Routed, planned
from verifier.drawing.told import Told

PENNANT = 4  # length of the sign at which a line leaves the sheet
LONGEST_LINK = 40.0


def sheet_of(told: Told, placement: Placement, number: int, outside: dict[int, Outside]) -> Sheet:
    """A sheet with the items of a placement. outside: of volumes that go on on other sheets."""
    outlines = outlines_of(told, placement)
    framed = frozenset(one.assembly for one in outlines)
    placement = _named(told, placement, framed)
    said = {volume: _links_said(told, volume, other) for volume, other in outside.items()}
    plan = planned(placement, pads_of(placement, outlines), _link_room(said))
    routed = best_route(plan, outside)
    symbols = tuple(
        Symbol(item.part, item.supply, x, y, item.figure)
        for item, x, y in zip(placement.items, routed.x, routed.y, strict=True)
    )
    drawn = [segments_of(routed, k) for k in range(len(routed.nets))]
    rectangles = [_frame(routed, one, framed) for one in outlines]
    taken = taken_by(
        (routed.width, routed.height),
        symbols,
        [s for segments, _ in drawn for s in segments],
        rectangles,
    )
    frames = tuple(
        replace(one, label=frame_label(taken, one.label.text, one.x, one.y, one.width, one.height))
        for one in rectangles
    )
    traces = []
    for k, (net, (segments, dots)) in enumerate(zip(routed.nets, drawn, strict=True)):
        links = _links(routed, k, net, said.get(net.volume, ("", "")))
        label = None
        if not links:
            label = line_label(taken, line_name(told, net.volume, framed), segments)
        traces.append(Trace(net.volume, segments, dots, links, label))
    height = routed.height + BLOCK + 2
    return Sheet(number, routed.width, height, symbols, tuple(traces), frames)


def _named(told: Told, placement: Placement, framed: frozenset[str]) -> Placement:
    """The placement with full names where an outline that was hoped for is not drawn."""
    items = []
    for item in placement.items:
        if item.part is not None:
            name = part_name(told, item.part, framed)
            if name != part_name(told, item.part, None):
                item = replace(item, figure=figure_of(told, item.part, name))
        items.append(item)
    return replace(placement, items=tuple(items))


def _frame(routed: Routed, one: Outline, framed: frozenset[str]) -> Frame:
    side, head = SIDE * one.level + 1, HEAD * one.level + HEAD
    x0, x1 = routed.left[one.columns[0]] - side, routed.right[one.columns[1]] + side
    y0, y1 = routed.top[one.rows[1]] - head, routed.bottom[one.rows[0]] + side
    label = Text(0, 0, frame_name(one.assembly, framed), NAME, "start", "frame")
    return Frame(one.assembly, x0, y0, x1 - x0, y1 - y0, label)


def _links_said(told: Told, volume: int, other: Outside) -> tuple[str, str]:
    """What is written at the left and at the right edge: the line, and where it goes on.

    With its full name, since it stands outside of all frames.
    """
    name = shortened(line_name(told, volume, frozenset()), SMALL, LONGEST_LINK)
    left = f"{name} (sheet {other.before[0]})" if other.before else ""
    right = f"{name} (sheet {other.after[0]})" if other.after else ""
    return left, right


def _link_room(said: dict[int, tuple[str, str]]) -> tuple[int, int]:
    found = []
    for side in (0, 1):
        widths = [width_of(texts[side], SMALL) for texts in said.values() if texts[side]]
        found.append(math.ceil(max(widths)) + PENNANT + 3 if widths else 0)
    return found[0], found[1]


def _links(routed: Routed, index: int, net: Net, said: tuple[str, str]) -> tuple[Link, ...]:
    links = []
    for one in net.leaving:
        y = routed.level[index, one.corridor]
        x = routed.edges[not one.at_left]
        at = x - PENNANT - 0.5 if one.at_left else x + PENNANT + 0.5
        text = Text(
            at, y + 0.85, said[not one.at_left], SMALL, "end" if one.at_left else "start", "line"
        )
        links.append(Link(x, y, one.at_left, one.to, text))
    return tuple(links)
