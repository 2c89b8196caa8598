"""The symbol of any part with moving elements, from its positions, passages and moves.

Rest stands at the right: a later position is a square further left, and what moves an element to
later positions stands at its left. The square of the start position is where the lines meet, and
the squares step aside as the element moves. With many positions they stay, and bars mark one.
"""

from __future__ import annotations

import math
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from verifier.drawing.controls import Control, Row, controls_of
from verifier.drawing.figure import (
    NAME,
    SMALL,
    Box,
    Figure,
    Lead,
    Mouth,
    Moving,
    Only,
    Shape,
    Side,
    Stream,
    Text,
    rectangle,
    shortened,
    stroke,
    width_of,
)
from verifier.drawing.glyphs import glyph
from verifier.drawing.openings import Openings, openings_of
from verifier.drawing.squares import exhaust, plug, square, stream
from verifier.drawing.told import Told

TOP = 5  # room above the squares: the name, port numbers
BOTTOM = 6  # below: exhausts, port numbers
MOST = 4  # with more positions, bars mark the square that counts: the squares stay
SPARE = 1  # free beside everything, so that neighbours never touch


class Lane(Struct, frozen=True):
    """A row of controls beside the squares: its depth below their upper edge, half its height.

    label: whether what is written at it stands above it, below it, or at its outer end.
    """

    row: Row
    y: int
    h: float
    label: Literal["above", "below", "outside"] = "above"


class Body(Struct):
    """One element being drawn. Coordinates of the symbol; x0: left edge of the first square."""

    told: Told
    part: int
    element: int
    openings: Openings
    height: int
    origin: int
    reach: list[float]
    free: tuple[int, int]
    x0: int = 0
    shapes: list[Shape] = []
    leads: list[Lead] = []
    texts: list[Text] = []
    mouths: list[Mouth] = []


def lanes(rows: tuple[Row, ...]) -> list[Lane]:
    if len(rows) == 1:
        return [Lane(rows[0], 5, 2.5)]
    if len(rows) == 2:
        return [Lane(rows[0], 3, 1.9), Lane(rows[1], 7, 1.9, "below")]
    last = len(rows) - 1
    return [
        Lane(row, 2 + 4 * i, 1.6, "below" if i == last else "outside" if i else "above")
        for i, row in enumerate(rows)
    ]


def element_figure(
    told: Told, part: int, element: int, first: bool, name: str, origin: int
) -> Figure:
    """The symbol of one element, from x = `origin` to the right.

    first: it also shows what belongs to no element of the part.
    """
    circuit = told.circuit
    positions = len(circuit.elements[element].positions)
    start = circuit.elements[element].start
    openings = openings_of(told, part, element, first)
    controls = controls_of(circuit, element)
    sides = (lanes(controls.left), lanes(controls.right))
    height = max(10, *(4 * len(rows) * (len(rows) > 2) for rows in (controls.left, controls.right)))
    moves = positions <= MOST
    free = (start * openings.width, (positions - 1 - start) * openings.width) if moves else (0, 0)
    body = Body(told, part, element, openings, height, origin, [0.0, 0.0], free)
    wide = openings.width
    steps = tuple((position - start) * wide * moves for position in range(positions))
    outer, elbows = _reach(body, sides)
    left = math.ceil(outer[0]) + elbows[0] + free[0]
    right = math.ceil(outer[1]) + elbows[1] + free[1]
    top = openings.first_top - openings.product  # where a square is free above, from its left
    name_room = left - SPARE - 1 + (positions - 1 - 2 * start) * wide + top
    wanted = min(math.ceil(width_of(name, NAME)) + 1, 40)
    left += max(0, wanted - name_room) + origin
    body.x0 = left
    width = left + positions * wide + right
    _squares(body, positions)
    for side in (0, 1):
        _controls(body, side, sides[side], steps, width, elbows[side])
    connected = left + (positions - 1 - start) * wide
    _ports(body, connected)
    said = shortened(name, NAME, connected + top - 2 - SPARE - origin)
    body.texts.append(Text(connected + top - 1, TOP - 1.2, said, NAME, "end", "name"))
    moving = Moving(element, start, steps, tuple(body.shapes), leads=tuple(body.leads))
    if not moves:
        moving = replace(moving, only=tuple(_bar(body, k, positions) for k in range(positions)))
    solid = Box(
        left - body.reach[0],
        TOP,
        positions * wide + body.reach[0] + body.reach[1],
        height,
    )
    static = tuple(_static(body, connected))
    return Figure(
        width,
        TOP + height + BOTTOM,
        (solid,),
        static,
        tuple(body.texts),
        (moving,),
        tuple(body.mouths),
        _streams(openings, connected, height),
    )


def _streams(openings: Openings, connected: int, height: int) -> tuple[Stream, ...]:
    found = []
    for network, way, opening in openings.ways:
        at = openings.at[opening]
        down, up = stream(connected + at.x, TOP - 3, TOP + height + 3)
        found.append(Stream((network, way), *((down, up) if at.top else (up, down))))
    return tuple(found)


def _bar(body: Body, position: int, positions: int) -> Only:
    """Bars above and below the square of a position, where there are too many squares to move."""
    left = body.x0 + (positions - 1 - position) * body.openings.width + 0.8
    width = body.openings.width - 1.6
    bars = [rectangle(left, y, width, 0.9) for y in (TOP + 0.3, TOP + body.height - 1.2)]
    return Only((position,), tuple(Shape(bar, "head") for bar in bars))


def _sort(body: Body, control: Control) -> str:
    return "cylinder" if control.sort == "pilot" and body.openings.product else control.sort


def _reach(body: Body, sides: tuple[list[Lane], list[Lane]]) -> tuple[list[float], list[int]]:
    """How far the controls reach at each side, and the room for the ends of pilot lines there."""
    outer, elbows = [0.0, 0.0], [0, 0]
    for side in (0, 1):
        pilots = 0
        for lane in sides[side]:
            length = 0.0
            for control in lane.row:
                length += glyph(_sort(body, control), control.look, 0, 0, side, lane.h).length
            if lane.row[-1].sort == "worked":
                length += width_of(lane.row[-1].words[:24], SMALL) + 1
            pilots_here = [c.of for c in lane.row if c.sort == "pilot"]
            length += 1.2 * sum(body.openings.inside(port) for port in pilots_here)
            for port in pilots_here:
                if body.openings.inside(port):
                    continue
                told = body.told.circuit.ports[port]
                pilots += told.state == "piped"
                said = width_of(told.label, SMALL) + (2.0 + body.openings.beyond if side else 0.6)
                end = {"piped": 1.0, "atmosphere": 2.6, "plugged": 3.6}[told.state]
                if lane.label == "outside":
                    length += end + width_of(told.label, SMALL)
                else:
                    length += max(end, said - length - body.free[side])
            outer[side] = max(outer[side], length)
        elbows[side] = SPARE + 3 * max(0, pilots - 1)
    return outer, elbows


def _squares(body: Body, positions: int) -> None:
    wide, openings = body.openings.width, body.openings
    for position in range(positions):
        left = body.x0 + (positions - 1 - position) * wide
        body.shapes.append(Shape(rectangle(left, TOP, wide, body.height), "square"))
        body.shapes += square(
            left, TOP, body.height, openings.at, openings.media, openings.paths[position]
        )


def _controls(
    body: Body, side: int, rows: list[Lane], steps: tuple[int, ...], width: int, elbows: int
) -> None:
    circuit = body.told.circuit
    positions = len(steps)
    edge = body.x0 if side == 0 else body.x0 + positions * body.openings.width
    sign = -1 if side == 0 else 1
    pilots = 0
    for lane in rows:
        x: float = edge
        y = TOP + lane.y
        for control in lane.row:
            drawn = glyph(_sort(body, control), control.look, x, y, side, lane.h)
            body.shapes += drawn.shapes
            start = x
            x += sign * drawn.length
            if control.sort == "worked":
                words = shortened(control.words, SMALL, width_of(control.words[:24], SMALL))
                anchor: Literal["start", "end"] = "end" if side == 0 else "start"
                body.texts.append(
                    Text(x + sign * 0.4, y + 0.35 * SMALL, words, SMALL, anchor, "worked")
                )
            if control.sort != "pilot":
                continue
            if body.openings.inside(control.of):
                loop = [(x, y), (x + sign * 1.2, y), (x + sign * 1.2, TOP + body.height - 1.0)]
                body.shapes.append(Shape(stroke(*loop, (edge, TOP + body.height - 1.0)), "inner"))
                x += sign * 1.2
                continue
            port = circuit.ports[control.of]
            elbow = body.origin + SPARE + 3 * pilots if side == 0 else width - SPARE - 3 * pilots
            piped = port.state == "piped" or len(circuit.volumes[port.volume].ports) > 1
            pilot = not body.openings.product
            if piped:
                ends = tuple(x + step for step in steps)
                body.leads.append(Lead(port.volume, pilot, elbow, y, ends))
                ways: tuple[Side, ...] = ("up", "down") if pilots == 0 else ("down",)
                body.mouths.append(Mouth(control.of, port.volume, elbow, y, ways, pilot))
                pilots += 1
            else:
                opens = port.state == "atmosphere"
                body.shapes += exhaust(x, y, (sign, 0), 0.4) if opens else plug(x, y, (sign, 0))
                x += sign * (2.6 if opens else 3.6)
            _pilot_label(body, side, lane, start, x if not piped else elbow, edge, port.label)
        body.reach[side] = max(body.reach[side], abs(x - edge))


def _pilot_label(
    body: Body, side: int, lane: Lane, start: float, outer: float, edge: float, label: str
) -> None:
    """Beside the symbol of the pilot, which reaches from x = `start` outwards to its line's end."""
    h = min(lane.h, 2.4 if body.openings.product else 1.7)
    if lane.label == "outside":
        at = outer + (0.5 if side == 0 else -0.5)
        anchor: Literal["start", "end"] = "start" if side == 0 else "end"
        body.texts.append(Text(at, TOP + lane.y - 0.4, label, SMALL, anchor, "port"))
        return
    y = TOP + lane.y + (h + 2.1 if lane.label == "below" else -h - 0.5)
    if lane.label == "above" and body.free[side]:
        y = TOP - 0.8  # where squares that step aside do not come
    at = outer + 0.5 if side == 0 else max(start, edge + body.openings.beyond + 1.7)
    body.texts.append(Text(at, y, label, SMALL, "start", "port"))


def _ports(body: Body, connected: int) -> None:
    circuit, openings = body.told.circuit, body.openings
    for index, opening in enumerate(openings.at):
        x, y = connected + opening.x, TOP if opening.top else TOP + body.height
        baseline = y - 0.8 if opening.top else y + 2.7
        port = openings.ports[index]
        aside: float = 0.8 if port is None or circuit.ports[port].state == "piped" else 1.6
        said = openings.labels[index]
        anchor: Literal["start", "end"] = "start"
        if openings.leftwards[index]:
            aside, anchor = -aside, "end"
        elif aside > 1 and len(said) > 2 and not opening.top:
            aside, baseline = -2.2, y + 5.8
        body.texts.append(Text(x + aside, baseline, said, SMALL, anchor, "port"))
        if port is None:
            continue
        told = circuit.ports[port]
        if told.state == "piped" or len(circuit.volumes[told.volume].ports) > 1:
            way: Side = "up" if opening.top else "down"
            gives = port in body.told.roles[body.part].gives
            body.mouths.append(Mouth(port, told.volume, x, y, (way,), False, gives))


def _static(body: Body, connected: int) -> list[Shape]:
    """Open ends, plugs and the stubs of tank ports: they stay where they are."""
    circuit, openings = body.told.circuit, body.openings
    shapes: list[Shape] = []
    for index, opening in enumerate(openings.at):
        x, y = connected + opening.x, TOP if opening.top else TOP + body.height
        port = openings.ports[index]
        if port is None:
            line = stroke((x, y), (x, y + (-3 if opening.top else 3)))
            liquid = openings.media[index] == "liquid"
            looks = ("liquid",) if liquid else ("vapour", "core")
            shapes += [Shape(line, look) for look in looks]
            continue
        told = circuit.ports[port]
        if told.state == "piped" or len(circuit.volumes[told.volume].ports) > 1:
            continue
        if told.state == "atmosphere":
            shapes += exhaust(x, y, (0, -1 if opening.top else 1))
        else:
            shapes += plug(x, y, (0, -1 if opening.top else 1))
    return shapes
