"""What a symbol is made of: shapes, texts and mouths, in the symbol's own coordinates.

One unit is 1 mm at full size; x to the right, y down. Mouths, boxes and steps are whole units, so
that lines can be laid out on the grid; details of a shape may be finer.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

Side = Literal["up", "down"]

NAME = 2.8  # height of the letters of a part's name, in units
SMALL = 2.4  # of port numbers and line names
# Widths of letters in parts of their height: a little more than sans-serif fonts have.
WIDE, USUAL, NARROW = 0.92, 0.58, 0.32


class Box(Struct, frozen=True, gc=False):
    """A rectangle: its left upper corner, its width and its height."""

    x: float
    y: float
    width: float
    height: float

    def moved(self, dx: float, dy: float) -> Box:
        return Box(self.x + dx, self.y + dy, self.width, self.height)

    def meets(self, other: Box, room: float = 0.0) -> bool:
        """Whether both have an area in common, or come closer than `room`."""
        return (
            self.x < other.x + other.width + room
            and other.x < self.x + self.width + room
            and self.y < other.y + other.height + room
            and other.y < self.y + self.height + room
        )


class Shape(Struct, frozen=True, gc=False):
    """`d` is the data of an SVG path; `look` is its class in the style sheet."""

    d: str
    look: str


class Text(Struct, frozen=True, gc=False):
    """A label. x, y: where its line of writing starts, is centred, or ends (`anchor`)."""

    x: float
    y: float
    text: str
    size: float
    anchor: Literal["start", "middle", "end"]
    look: str

    def box(self) -> Box:
        width = width_of(self.text, self.size)
        left = {"start": self.x, "middle": self.x - width / 2, "end": self.x - width}[self.anchor]
        return Box(left, self.y - 0.76 * self.size, width, 0.98 * self.size)


class Mouth(Struct, frozen=True, gc=False):
    """Where the line of `volume` meets a port of the symbol, or a supply (port None).

    ways: the sides to which the line may go on from there.   pilot: it is an external pilot.
    gives: air comes out of it, as the circuit is meant.
    """

    port: int | None
    volume: int
    x: int
    y: int
    ways: tuple[Side, ...]
    pilot: bool = False
    gives: bool = False


class Only(Struct, frozen=True, gc=False):
    """Shapes that are seen while the element stands in one of `positions`."""

    positions: tuple[int, ...]
    shapes: tuple[Shape, ...]


class Lead(Struct, frozen=True, gc=False):
    """The level end of a line at a control that moves with its element.

    At height `y`, from `x` to `ends[position]`.
    """

    volume: int
    pilot: bool
    x: int
    y: int
    ends: tuple[float, ...]


class Moving(Struct, frozen=True, gc=False):
    """What shows the position of an element: `shapes` step to the right by `steps[position]`."""

    element: int
    start: int
    steps: tuple[int, ...]
    shapes: tuple[Shape, ...]
    only: tuple[Only, ...] = ()
    leads: tuple[Lead, ...] = ()


class Stream(Struct, frozen=True, gc=False):
    """Arrows at the way of a part for liquid or vapour, seen while something flows there.

    way: index of the network, index of the way in it.   ahead: arrows from its start to its end.
    """

    way: tuple[int, int]
    ahead: tuple[Shape, ...]
    back: tuple[Shape, ...]


class Figure(Struct, frozen=True, gc=False):
    """The symbol of a part. `solid`: what no line may touch; within `width` and `height`."""

    width: int
    height: int
    solid: tuple[Box, ...]
    shapes: tuple[Shape, ...]
    texts: tuple[Text, ...]
    moving: tuple[Moving, ...]
    mouths: tuple[Mouth, ...]
    streams: tuple[Stream, ...] = ()


def width_of(text: str, size: float) -> float:
    """Upper bound of the width of a text, in units, whichever usual sans-serif font is there."""
    total = 0.0
    for letter in text:
        if ord(letter) > 0x2E7F or letter in "mwMW@%—":
            total += WIDE
        elif letter in "ijl.,:;'|![]() ftr":
            total += NARROW
        else:
            total += USUAL if not letter.isupper() else 0.7
    return total * size


def shortened(text: str, size: float, room: float) -> str:
    """The text, or its beginning and end around an ellipsis, so that it fits into `room`."""
    if width_of(text, size) <= room:
        return text
    for kept in range(len(text) - 1, 1, -1):
        tail = kept // 2
        short = text[: kept - tail] + "…" + text[len(text) - tail :]
        if width_of(short, size) <= room:
            return short
    return "…"


def number(value: float) -> str:
    """A coordinate as short as it can be written, the same on every machine."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def stroke(*points: tuple[float, float]) -> str:
    """Path data of a line through points."""
    first, *rest = points
    return f"M{number(first[0])} {number(first[1])}" + "".join(
        f"L{number(x)} {number(y)}" for x, y in rest
    )


def polygon(*points: tuple[float, float]) -> str:
    return stroke(*points) + "Z"


def rectangle(x: float, y: float, width: float, height: float) -> str:
    return f"M{number(x)} {number(y)}h{number(width)}v{number(height)}h{number(-width)}Z"


def circle(x: float, y: float, r: float) -> str:
    return (
        f"M{number(x - r)} {number(y)}a{number(r)} {number(r)} 0 1 0 {number(2 * r)} 0"
        f"a{number(r)} {number(r)} 0 1 0 {number(-2 * r)} 0Z"
    )


def head(x0: float, y0: float, x: float, y: float, length: float = 2.2) -> Shape:
    """The head of an arrow that comes from (x0, y0) and ends at (x, y)."""
    dx, dy = x - x0, y - y0
    far = (dx * dx + dy * dy) ** 0.5
    ux, uy = dx / far, dy / far
    bx, by = x - ux * length, y - uy * length
    wide = 0.36 * length
    return Shape(
        polygon((x, y), (bx - uy * wide, by + ux * wide), (bx + uy * wide, by - ux * wide)), "head"
    )
