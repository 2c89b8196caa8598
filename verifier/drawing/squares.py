"""The squares of a valve: for each position the paths that it opens (ISO 1219-1)."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.drawing.figure import Shape, circle, head, polygon, stroke

Medium = Literal["air", "liquid", "vapour"]


class Opening(Struct, frozen=True, gc=False):
    """Where a port opens into every square: `x` from the left edge of a square, top or bottom."""

    x: int
    top: bool


class Path(Struct, frozen=True, gc=False):
    """A path between two openings (indices); towards the second, as the circuit is meant."""

    start: int
    end: int
    medium: Medium = "air"
    restricted: bool = False
    one_way: bool = False


def square(
    left: float,
    top: float,
    height: float,
    openings: tuple[Opening, ...],
    media: tuple[Medium, ...],
    paths: tuple[Path, ...],
) -> list[Shape]:
    """The inside of one square whose left upper corner is (left, top). media: of each opening."""
    shapes: list[Shape] = []
    for path in paths:
        shapes += _path(left, top, height, openings[path.start], openings[path.end], path)
    used = {end for path in paths for end in (path.start, path.end)}
    for index, opening in enumerate(openings):
        if index not in used:
            shapes += _shut(left, top, height, opening, media[index])
    return shapes


def _point(left: float, top: float, height: float, opening: Opening) -> tuple[float, float]:
    return left + opening.x, top if opening.top else top + height


def _shut(left: float, top: float, height: float, opening: Opening, medium: Medium) -> list[Shape]:
    x, y = _point(left, top, height, opening)
    inner = y + 2.4 if opening.top else y - 2.4
    looks = {"air": ("way",), "liquid": ("liquid",), "vapour": ("vapour", "core")}[medium]
    stem = [Shape(stroke((x, y), (x, inner)), look) for look in looks]
    return [*stem, Shape(stroke((x - 1.2, inner), (x + 1.2, inner)), "stop")]


def _path(
    left: float, top: float, height: float, start: Opening, end: Opening, path: Path
) -> list[Shape]:
    a, b = _point(left, top, height, start), _point(left, top, height, end)
    points = [a, b]
    if start.top == end.top:
        y = top + 3.6 if start.top else top + height - 3.6
        points = [a, (a[0], y), (b[0], y), b]
    line = stroke(*points)
    if path.medium == "liquid":
        return [Shape(line, "liquid"), head(*points[-2], *b, 3.4)]
    if path.medium == "vapour":
        return [Shape(line, "vapour"), Shape(line, "core"), head(*points[-2], *b, 3.4)]
    shapes = [Shape(line, "way"), head(*points[-2], *b)]
    (x0, y0), (x1, y1) = points[-2], points[-1]
    if len(points) == 4:
        (x0, y0), (x1, y1) = points[1], points[2]
    mx, my = (x0 + x1) / 2, (y0 + y1) / 2
    far = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 or 1.0
    ux, uy = (x1 - x0) / far, (y1 - y0) / far

    def off(along: float, across: float) -> tuple[float, float]:
        return mx + along * ux - across * uy, my + along * uy + across * ux

    if path.restricted:
        for sign in (-1, 1):
            bow = [off(-1.4, sign * 1.3), off(0, sign * 0.5), off(1.4, sign * 1.3)]
            shapes.append(Shape(stroke(*bow), "way"))
    if path.one_way:
        shapes.append(Shape(stroke(off(-0.4, -1.2), off(-1.3, 0), off(-0.4, 1.2)), "way"))
        shapes.append(Shape(circle(*off(0, 0), 0.8), "hollow"))
    return shapes


def _leading(
    x: float, y: float, way: tuple[int, int], far: float, across: float
) -> tuple[float, float]:
    """The point `far` from (x, y) in the direction of `way`, and `across` from there."""
    return x + way[0] * far - way[1] * across, y + way[1] * far + way[0] * across


def exhaust(x: float, y: float, way: tuple[int, int] = (0, 1), lead: float = 1.4) -> list[Shape]:
    """The open end of a port at (x, y), a short lead and a triangle in the direction `way`."""

    def at(far: float, across: float = 0) -> tuple[float, float]:
        return _leading(x, y, way, far, across)

    return [
        Shape(stroke((x, y), at(lead)), "way"),
        Shape(polygon(at(lead, -1.3), at(lead, 1.3), at(lead + 2.2)), "hollow"),
    ]


def plug(x: float, y: float, way: tuple[int, int] = (0, 1)) -> list[Shape]:
    """A plugged port at (x, y): a short lead in the direction `way` and a cross."""

    def at(far: float, across: float = 0) -> tuple[float, float]:
        return _leading(x, y, way, far, across)

    return [
        Shape(stroke((x, y), at(2.4)), "way"),
        Shape(stroke(at(1.4, -1), at(3.4, 1)), "way"),
        Shape(stroke(at(3.4, -1), at(1.4, 1)), "way"),
    ]


def stream(x: float, above: float, below: float) -> tuple[tuple[Shape, ...], tuple[Shape, ...]]:
    """Arrows that point down at the ends of an upright way, and arrows that point up."""

    def arrow(y: float, sign: int) -> Shape:
        return Shape(polygon((x - 1.5, y - sign), (x + 1.5, y - sign), (x, y + sign)), "stream")

    ends = (above - 1.0, below + 1.0)
    return tuple(arrow(y, 1) for y in ends), tuple(arrow(y, -1) for y in ends)
