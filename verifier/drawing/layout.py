"""A drawing as data: symbols, lines, frames and sheets on a grid of whole units.

One unit is 1 mm on paper at scale 1; x to the right, y down, from the left upper corner of a sheet.
"""

from __future__ import annotations

from msgspec import Struct

from verifier.drawing.figure import Box, Figure, Text

BLOCK = 6  # height of the title block, which stands below the drawing


class Symbol(Struct, frozen=True):
    """The symbol of a part or of a supply (the other is None), its left upper corner at (x, y)."""

    part: int | None
    supply: int | None
    x: int
    y: int
    figure: Figure

    @property
    def box(self) -> Box:
        return Box(self.x, self.y, self.figure.width, self.figure.height)

    @property
    def solid(self) -> tuple[Box, ...]:
        """What no line may pass through."""
        return tuple(box.moved(self.x, self.y) for box in self.figure.solid)


class Segment(Struct, frozen=True, gc=False):
    """A straight piece of a line, level or upright; (x1, y1) is its left or upper end.

    pilot: it only feeds pilots, so it is drawn dashed.
    """

    x1: int
    y1: int
    x2: int
    y2: int
    pilot: bool


class Link(Struct, frozen=True):
    """Where a line leaves the sheet. at_left: at that edge; to: the sheets it goes on on."""

    x: int
    y: int
    at_left: bool
    to: tuple[int, ...]
    text: Text


class Trace(Struct, frozen=True):
    """The line of a volume on a sheet: its segments, the dots at joins, its name where it fits."""

    volume: int
    segments: tuple[Segment, ...]
    dots: tuple[tuple[int, int], ...]
    links: tuple[Link, ...]
    label: Text | None


class Frame(Struct, frozen=True):
    """The outline of an assembly, named as in the design."""

    assembly: str
    x: int
    y: int
    width: int
    height: int
    label: Text


class Sheet(Struct, frozen=True):
    """number: from 1.   width, height: of what is drawn, in units."""

    number: int
    width: int
    height: int
    symbols: tuple[Symbol, ...]
    traces: tuple[Trace, ...]
    frames: tuple[Frame, ...]


class Layout(Struct, frozen=True):
    """A circuit, laid out. paper: "A4" or "A3", landscape; scale: mm on paper for one unit."""

    name: str
    title: str
    revision: str
    paper: str
    scale: float
    sheets: tuple[Sheet, ...]
