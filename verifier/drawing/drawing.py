"""From a circuit to its drawing."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from verifier.drawing.families import families_of
from verifier.drawing.figure import NAME, Text
from verifier.drawing.figures import figure_of
from verifier.drawing.frames import HEAD, SIDE, Outline, outlines_of, pads_of
from verifier.drawing.labels import frame_label, line_label, taken_by
from verifier.drawing.layout import BLOCK, Frame, Layout, Sheet, Symbol, Trace
from verifier.drawing.lines import segments_of
from verifier.drawing.names import frame_name, line_name, part_name
from verifier.drawing.nets import Outside
from verifier.drawing.paper import fit
from verifier.drawing.placing import Placement, place
from verifier.drawing.routing import Routed, route
from verifier.drawing.simple import supply_figure
from verifier.drawing.told import Told, tell
from verifier.model.circuit import Circuit


def lay_out(circuit: Circuit, also: Mapping[int, tuple[int, ...]] | None = None) -> Layout:
    """The drawing of a circuit, the same every time. also: of a port the lines that it is joined to
    besides its own, where two circuits are drawn as one."""
    told = tell(circuit, also or {})
    figures = tuple(
        figure_of(told, part, part_name(told, part, None)) for part in range(len(circuit.parts))
    )
    supplies = tuple(supply_figure(supply, supply.name) for supply in circuit.supplies)
    placement = place(told, families_of(told), figures, supplies)
    sheet = _sheet(told, placement, 1, {})
    paper, scale = fit([(sheet.width, sheet.height)])
    return Layout(circuit.name, circuit.title, circuit.revision, paper, scale, (sheet,))


def _sheet(told: Told, placement: Placement, number: int, outside: dict[int, Outside]) -> Sheet:
    outlines = outlines_of(told, placement)
    framed = frozenset(one.assembly for one in outlines)
    placement = _named(told, placement, framed)
    routed = route(placement, outside, pads_of(placement, outlines), (0, 0))
    symbols = tuple(
        Symbol(item.part, item.supply, x, y, item.figure)
        for item, x, y in zip(placement.items, routed.x, routed.y, strict=True)
    )
    drawn = [segments_of(routed, k) for k in range(len(routed.nets))]
    rectangles = [_frame(routed, one, framed) for one in outlines]
    taken = taken_by(symbols, [s for segments, _ in drawn for s in segments], rectangles)
    frames = tuple(
        replace(one, label=frame_label(taken, one.label.text, one.x, one.y, one.width, one.height))
        for one in rectangles
    )
    traces = []
    for net, (segments, dots) in zip(routed.nets, drawn, strict=True):
        label = line_label(taken, line_name(told, net.volume, framed), segments)
        traces.append(Trace(net.volume, segments, dots, (), label))
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
