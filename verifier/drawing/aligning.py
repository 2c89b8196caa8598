"""Where in its column an item stands, so that lines between neighbours run straight up."""

from __future__ import annotations

from collections import Counter

from verifier.drawing.placing import Item, Placement

STRAIGHT = 12  # worth of a straight line to the neighbour
NEAR = 3  # different lines keep this far from each other
FAR = 24  # an item is moved aside so far at most


def offsets(placement: Placement) -> tuple[int, ...]:
    """For each item, how far right of the column's origin its left edge is (may be negative)."""
    uses: Counter[int] = Counter(
        mouth.volume for item in placement.items for mouth in item.figure.mouths
    )
    found: dict[int, int] = {}
    reach: dict[int, tuple[int, int]] = {}
    below: dict[tuple[int, int], int] = {
        (item.row, item.column): k for k, item in enumerate(placement.items)
    }
    for k, item in enumerate(placement.items):
        lower = below.get((item.row - 1, item.column))
        first, last = reach.get(item.column, (-5, 5))
        if lower is None:
            found[k] = (first + last - item.figure.width) // 2
        else:
            found[k] = _best(placement.items[lower], found[lower], item, uses, (first, last))
        edges = (found[k], found[k] + item.figure.width)
        reach[item.column] = (min(first, edges[0]), max(last, edges[1]))
    return tuple(found[k] for k in range(len(placement.items)))


def _best(lower: Item, at: int, upper: Item, uses: Counter[int], reach: tuple[int, int]) -> int:
    """The offset of `upper` that makes most lines straight and keeps different ones apart.

    reach: from where to where its column is taken already; going beyond costs width.
    """
    ups = [mouth for mouth in lower.figure.mouths if "up" in mouth.ways]
    downs = [mouth for mouth in upper.figure.mouths if "down" in mouth.ways]
    centre = (reach[0] + reach[1] - upper.figure.width) // 2

    def worth(offset: int) -> tuple[int, int, int]:
        score, straight = 0, 0
        for up in ups:
            for down in downs:
                apart = abs(offset + down.x - at - up.x)
                if up.volume == down.volume:
                    if apart == 0:
                        straight += STRAIGHT if uses[up.volume] == 2 else STRAIGHT // 2
                elif apart == 0:
                    score -= 10_000
                elif apart < NEAR:
                    score -= 3 * (NEAR - apart)
        beyond = max(0, reach[0] - offset) + max(0, offset + upper.figure.width - reach[1])
        return score + straight - beyond, -abs(offset - centre), offset

    return max(range(centre - FAR, centre + FAR + 1), key=worth)
