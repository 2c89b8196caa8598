"""The symbols of controls, after the conventions of ISO 1219-1, in our own geometry.

Each is drawn as it stands at the left of a square: its axis at y = 0, the edge of the square at
x = 0, so that it reaches to negative x. `side` = 1 mirrors it for the right.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from verifier.drawing.figure import Shape, circle, number, polygon, rectangle, stroke


class Glyph(Struct, frozen=True):
    length: float
    shapes: tuple[Shape, ...]


class Pen:
    """Draws at (x, y), to the left of it, or mirrored to the right. `h`: half the height given."""

    def __init__(self, x: float, y: float, side: int, h: float) -> None:
        self.x, self.y, self.sign, self.h = x, y, -1 if side == 0 else 1, h
        self.shapes: list[Shape] = []

    def at(self, x: float, y: float) -> tuple[float, float]:
        """x counts away from the square."""
        return self.x + self.sign * x, self.y + y

    def line(self, *points: tuple[float, float], look: str = "body") -> None:
        self.shapes.append(Shape(stroke(*(self.at(*point) for point in points)), look))

    def area(self, *points: tuple[float, float], look: str = "hollow") -> None:
        self.shapes.append(Shape(polygon(*(self.at(*point) for point in points)), look))

    def round(self, x: float, y: float, r: float, look: str = "hollow") -> None:
        self.shapes.append(Shape(circle(*self.at(x, y), r), look))

    def box(self, x: float, y: float, width: float, height: float, look: str = "hollow") -> None:
        left = self.at(x if self.sign > 0 else x + width, y)
        self.shapes.append(Shape(rectangle(left[0], left[1], width, height), look))

    def cap(self, x: float, h: float, depth: float, look: str = "hollow") -> None:
        """A half round head whose flat face stands at x, open towards the square."""
        (x0, y0), (_, y1) = self.at(x, -h), self.at(x, h)
        sweep = 0 if self.sign < 0 else 1
        d = f"M{number(x0)} {number(y0)}A{number(depth)} {number(h)} 0 0 {sweep} "
        self.shapes.append(Shape(d + f"{number(x0)} {number(y1)}Z", look))


def _pilot(pen: Pen) -> float:
    h = min(pen.h, 1.7)
    pen.area((0, 0), (3, -h), (3, h))
    return 3


def _cylinder(pen: Pen) -> float:
    """An air cylinder with its piston: the air works on a tank valve itself."""
    h = min(pen.h, 2.4)
    pen.box(1.6, -h, 5.4, 2 * h)
    pen.line((0, 0), (4.6, 0))
    pen.box(4.5, -h, 1.1, 2 * h, look="head")
    return 7


def _spring(pen: Pen) -> float:
    h = min(pen.h, 2.0)
    points = [(0.0, h)]
    for i in range(1, 6):
        points.append((0.95 * i, -h if i % 2 else h))
    pen.line(*points)
    return 5


def _detent(pen: Pen) -> float:
    """A bar with two notches and a catch above it."""
    pen.box(0, -1.0, 4.4, 2.0)
    pen.line((0.7, -1.0), (1.3, 0.0), (1.9, -1.0))
    pen.line((2.5, -1.0), (3.1, 0.0), (3.7, -1.0))
    pen.line((1.3, -2.1), (1.3, -0.2))
    return 4.4


def _general(pen: Pen) -> float:
    pen.line((0, 0), (4, 0))
    pen.line((4, -2), (4, 2))
    return 4.5


def _push(pen: Pen) -> float:
    pen.line((0, 0), (4, 0))
    pen.cap(4, 2, 1.8)
    return 6


def _pull(pen: Pen) -> float:
    pen.line((0, 0), (4, 0))
    pen.area((4, 0), (6, -1.8), (6, 1.8))
    return 6.5


def _push_pull(pen: Pen) -> float:
    """A knob with a waist: it can be pushed and gripped."""
    pen.line((0, 0), (2.6, 0))
    pen.area((2.6, -1.5), (4, -0.6), (5.4, -1.8), (5.4, 1.8), (4, 0.6), (2.6, 1.5))
    return 5.6


def _mushroom(pen: Pen) -> float:
    pen.line((0, 0), (4, 0))
    pen.cap(4, 2.6, 3, look="head")
    return 7.5


def _lever(pen: Pen) -> float:
    pen.line((0, 0), (3.4, 0))
    pen.line((3.4, 0), (6, -2.4))
    pen.round(3.4, 0, 0.7)
    pen.round(6.2, -2.5, 0.6, look="head")
    return 7


def _pedal(pen: Pen) -> float:
    pen.line((0, 0), (3, 0), (5, -1.8), (7, -0.8))
    pen.round(3, 0, 0.7)
    return 7.5


def _key(pen: Pen) -> float:
    pen.line((0, 0), (4.4, 0))
    pen.round(5.8, 0, 1.4)
    pen.line((1.6, 0), (1.6, 1.5))
    pen.line((2.8, 0), (2.8, 1.5))
    return 7.5


def _coupling(pen: Pen) -> float:
    """A hose that is coupled pushes: two brackets that meet."""
    pen.line((0, 0), (3.2, 0))
    pen.line((4.4, -1.8), (3.2, -1.8), (3.2, 1.8), (4.4, 1.8))
    pen.line((4.8, -1.8), (6, -1.8), (6, 1.8), (4.8, 1.8))
    return 6.5


def _worked(pen: Pen) -> float:
    """A plunger that something else works."""
    pen.line((0, -0.9), (4, -0.9))
    pen.line((0, 0.9), (4, 0.9))
    pen.cap(4, 0.9, 1.4)
    return 6


def _coil(pen: Pen) -> float:
    h = min(pen.h, 2.2)
    pen.box(0, -h, 5, 2 * h)
    pen.line((1.4, -h), (3.6, h))
    return 5


def _float(pen: Pen) -> float:
    pen.line((0, 0), (3.6, 0))
    pen.round(5.2, 0, 1.6)
    pen.line((2.9, 1.0), (3.8, 0.5), (4.6, 1.0), (5.4, 0.5), (6.2, 1.0), (7.1, 0.5))
    return 7.5


def _heat(pen: Pen) -> float:
    """Heat: a box with a flame in it."""
    h = min(pen.h, 2.2)
    pen.box(0, -h, 5, 2 * h)
    pen.line((1.6, 1.4), (1.2, 0.2), (2.2, -0.4), (2.6, -1.6), (3.8, 0.2), (3.3, 1.4), (1.6, 1.4))
    return 5


def _surroundings(pen: Pen) -> float:
    """Something else of the surroundings."""
    h = min(pen.h, 2.0)
    pen.box(0, -h, 4.4, 2 * h)
    pen.line((1.0, 0.8), (2.2, -0.8), (3.4, 0.8))
    return 4.4


HANDS: dict[str, Callable[[Pen], float]] = {
    "general": _general,
    "push": _push,
    "pull": _pull,
    "push_pull": _push_pull,
    "mushroom": _mushroom,
    "lever": _lever,
    "pedal": _pedal,
    "key": _key,
    "coupling": _coupling,
}
SWITCHES: dict[str, Callable[[Pen], float]] = {
    "coil": _coil,
    "level": _float,
    "key": _key,
    "heat": _heat,
}
OTHERS: dict[str, Callable[[Pen], float]] = {
    "pilot": _pilot,
    "cylinder": _cylinder,
    "spring": _spring,
    "detent": _detent,
    "worked": _worked,
}


def glyph(sort: str, look: str, x: float, y: float, side: int, h: float) -> Glyph:
    """The symbol of a control whose foot stands at (x, y); `h`: half the height there is for it."""
    pen = Pen(x, y, side, h)
    if sort == "hand":
        length = HANDS[look](pen)
    elif sort == "switch":
        length = SWITCHES.get(look, _surroundings)(pen)
    else:
        length = OTHERS[sort](pen)
    return Glyph(length, tuple(pen.shapes))
