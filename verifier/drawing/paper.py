"""Which paper a drawing goes on, and how large: full size where it can be, never unreadable."""

from __future__ import annotations

from verifier.drawing.figure import SMALL

# What a sheet leaves inside a margin of 10 mm, landscape, in mm.
PAPERS = {"A4": (277, 190), "A3": (400, 277)}
LEGIBLE = 1.7  # mm: the height of the smallest letters on paper (5 points are 1.76 mm)
SMALLEST = LEGIBLE / SMALL


def fit(sizes: list[tuple[int, int]]) -> tuple[str, float]:
    """The paper and the scale (mm for a unit) for sheets of these widths and heights.

    The scale may be below SMALLEST: then the sheets are too large.
    """
    width = max(width for width, _ in sizes)
    height = max(height for _, height in sizes)
    for paper, (across, down) in PAPERS.items():
        if width <= across and height <= down:
            return paper, 1.0
    across, down = PAPERS["A3"]
    return "A3", min(across / width, down / height)
