"""Where the names of lines and frames are written: beside their own line, and over nothing else."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from verifier.drawing.figure import NAME, SMALL, Box, Text, shortened, width_of
from verifier.drawing.layout import Frame, Segment, Symbol

CELL = 16
LIFT = 0.7  # a name stands so far above its line
LONGEST = 40.0  # a longer name of a line is shortened


class Taken:
    """What is on the sheet already, found by place."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self.cells: dict[tuple[int, int], list[Box]] = defaultdict(list)

    def _cells(self, box: Box) -> Iterator[tuple[int, int]]:
        for cx in range(int(box.x // CELL), int((box.x + box.width) // CELL) + 1):
            for cy in range(int(box.y // CELL), int((box.y + box.height) // CELL) + 1):
                yield cx, cy

    def put(self, box: Box) -> None:
        for cell in self._cells(box):
            self.cells[cell].append(box)

    def free(self, box: Box, room: float = 0.2) -> bool:
        """Whether nothing is there, and it is on the sheet."""
        if box.x < 0 or box.x + box.width > self.width or not 0 < box.y < self.height - box.height:
            return False
        return not any(
            box.meets(other, room) for cell in self._cells(box) for other in self.cells[cell]
        )


def box_of(segment: Segment) -> Box:
    return Box(
        segment.x1, segment.y1, segment.x2 - segment.x1 or 0.1, segment.y2 - segment.y1 or 0.1
    )


def taken_by(
    size: tuple[int, int],
    symbols: tuple[Symbol, ...],
    segments: list[Segment],
    frames: list[Frame],
) -> Taken:
    """Symbols with all that is written at them, lines, outlines. size: of the sheet."""
    taken = Taken(*size)
    for symbol in symbols:
        for box in symbol.solid:
            taken.put(box)
        for text in symbol.figure.texts:
            taken.put(text.box().moved(symbol.x, symbol.y))
        for mouth in symbol.figure.mouths:
            taken.put(Box(symbol.x + mouth.x - 0.5, symbol.y + mouth.y - 0.5, 1, 1))
        for moving in symbol.figure.moving:
            for lead in moving.leads:
                x0, x1 = sorted((lead.x, lead.ends[moving.start]))
                taken.put(Box(symbol.x + x0, symbol.y + lead.y, x1 - x0, 0.1))
    for segment in segments:
        taken.put(box_of(segment))
    for frame in frames:
        for side in (
            Box(frame.x, frame.y, frame.width, 0.1),
            Box(frame.x, frame.y + frame.height, frame.width, 0.1),
            Box(frame.x, frame.y, 0.1, frame.height),
            Box(frame.x + frame.width, frame.y, 0.1, frame.height),
        ):
            taken.put(side)
    return taken


def frame_label(taken: Taken, name: str, x: int, y: int, width: int, height: int) -> Text:
    """The name inside the outline, at its upper edge, as far left as is free; else at the lower;
    shortened until it finds room."""
    for share in (1.0, 0.6, 0.4, 0.25, 0.12):
        said = shortened(name, NAME, share * (width - 2))
        size = width_of(said, NAME)
        for baseline in (y + 2.9, y + height - 0.9):
            for step in range(1, int(width - size), 2):
                text = Text(x + step, baseline, said, NAME, "start", "frame")
                if taken.free(text.box()):
                    taken.put(text.box())
                    return text
    text = Text(x + 1, y + 2.9, "…", NAME, "start", "frame")
    taken.put(text.box())
    return text


def line_label(taken: Taken, name: str, segments: tuple[Segment, ...]) -> Text | None:
    """The name above a level segment of its line, the longest first, or right of an upright one."""
    said = shortened(name, SMALL, LONGEST)
    size = width_of(said, SMALL)
    by_length = sorted(segments, key=lambda s: (s.x1 - s.x2 + s.y1 - s.y2, s.y1, s.x1))
    for level in (True, False):
        for segment in by_length:
            if (segment.y1 == segment.y2) != level:
                continue
            for text in _along(segment, said, size):
                if taken.free(text.box()):
                    taken.put(text.box())
                    return text
    return None


def _along(segment: Segment, said: str, size: float) -> Iterator[Text]:
    if segment.y1 == segment.y2:
        for x in range(segment.x1 + 1, int(segment.x2 - size), 2):
            yield Text(x, segment.y1 - LIFT, said, SMALL, "start", "line")
        for x in range(segment.x1 + 1, int(segment.x2 - size), 2):
            yield Text(x, segment.y1 + SMALL, said, SMALL, "start", "line")
    else:
        for y in range(segment.y1 + 3, segment.y2, 2):
            yield Text(segment.x1 + 0.8, y, said, SMALL, "start", "line")
        for y in range(segment.y1 + 3, segment.y2, 2):
            yield Text(segment.x1 - 0.8, y, said, SMALL, "end", "line")
