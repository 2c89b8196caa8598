"""The segments of a line, its dots, and which of them only feed pilots."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise

from verifier.drawing.layout import Segment
from verifier.drawing.nets import Net
from verifier.drawing.routing import Routed

Point = tuple[int, int]


def segments_of(routed: Routed, index: int) -> tuple[tuple[Segment, ...], tuple[Point, ...]]:
    """Segments and dots of a net: one trunk in each corridor, one spine, a branch to each mouth."""
    net = routed.nets[index]
    raw = _raw(routed, index, net)
    ends: dict[Point, bool] = {}
    for end in net.ends:
        place = (routed.x[end.item] + end.mouth.x, routed.y[end.item] + end.mouth.y)
        ends[place] = end.mouth.pilot
    pieces = _cut(raw, set(ends))
    joins: dict[Point, list[Point]] = defaultdict(list)
    for a, b in pieces:
        joins[a].append(b)
        joins[b].append(a)
    for one in net.leaving:
        ends[routed.edges[not one.at_left], routed.level[index, one.corridor]] = one.pilot
    solid = {point for point, pilot in ends.items() if not pilot}
    pilots = {point for point, pilot in ends.items() if pilot}
    dashed = {piece: _only_pilots(piece, joins, solid, pilots) for piece in pieces}
    dots = tuple(sorted(point for point, others in joins.items() if len(others) > 2))
    return _merged(dashed, set(ends) | set(dots)), dots


def _raw(routed: Routed, index: int, net: Net) -> list[tuple[Point, Point]]:
    raw: list[tuple[Point, Point]] = []
    levels: list[int] = []
    for corridor in net.corridors:
        level = routed.level.get((index, corridor))
        xs: list[int] = []
        for end in net.ends:
            if end.corridor != corridor:
                continue
            x, y = routed.x[end.item] + end.mouth.x, routed.y[end.item] + end.mouth.y
            xs.append(x)
            if level is not None:
                raw.append(((x, y), (x, level)))
            else:
                levels.append(y)
        if level is None:
            raw.append(((xs[0], min(levels)), (xs[0], max(levels))))
            continue
        for one in net.leaving:
            if one.corridor == corridor:
                xs.append(routed.edges[not one.at_left])
        if net.aisle is not None:
            xs.append(routed.spine[index])
        levels.append(level)
        raw.append(((min(xs), level), (max(xs), level)))
    if net.aisle is not None:
        x = routed.spine[index]
        levels.sort()
        raw += [((x, a), (x, b)) for a, b in pairwise(levels)]
    return raw


def _cut(raw: list[tuple[Point, Point]], ends: set[Point]) -> list[tuple[Point, Point]]:
    """The pieces between all points where segments of the net meet; each piece once."""
    stops = {point for segment in raw for point in segment} | ends
    pieces: set[tuple[Point, Point]] = set()
    for a, b in raw:
        (x1, y1), (x2, y2) = min(a, b), max(a, b)
        inside = sorted(p for p in stops if x1 <= p[0] <= x2 and y1 <= p[1] <= y2)
        pieces.update((p, q) for p, q in pairwise(inside))
    return sorted(pieces)


def _only_pilots(
    piece: tuple[Point, Point],
    joins: dict[Point, list[Point]],
    solid: set[Point],
    pilots: set[Point],
) -> bool:
    """Whether on one side of the piece there is nothing but pilots."""
    for start, barred in (piece, piece[::-1]):
        seen, queue = {start}, [start]
        while queue:
            here = queue.pop()
            for other in joins[here]:
                if other not in seen and not (here == start and other == barred):
                    seen.add(other)
                    queue.append(other)
        if not seen & solid and seen & pilots and barred not in seen:
            return True
    return False


def _merged(dashed: dict[tuple[Point, Point], bool], kept: set[Point]) -> tuple[Segment, ...]:
    """Pieces in one direction that go on into each other without a join are one segment."""
    found: list[list[int | bool]] = []
    upright = sorted((p for p in dashed if p[0][0] == p[1][0]), key=lambda p: (p[0][0], p[0][1]))
    level = sorted((p for p in dashed if p[0][0] != p[1][0]), key=lambda p: (p[0][1], p[0][0]))
    for piece in upright + level:
        (x1, y1), (x2, y2) = piece
        last = found[-1] if found else None
        same = (
            last is not None
            and last[2:4] == [x1, y1]
            and (last[0] == x2 or last[1] == y2)
            and last[4] == dashed[piece]
            and (x1, y1) not in kept
        )
        if same and last is not None:
            last[2], last[3] = x2, y2
        else:
            found.append([x1, y1, x2, y2, dashed[piece]])
    return tuple(Segment(int(a), int(b), int(c), int(d), bool(e)) for a, b, c, d, e in found)
