"""From rows, columns and nets to exact places: widths, heights, tracks, and every segment.

No two lines can touch: mouths of neighbours in a column never lie above one another unless they
are of one line (aligning.py); in corridors and aisles, runs that meet have tracks of their own;
and nothing else stands there.
"""

from __future__ import annotations

from msgspec import Struct

from verifier.drawing.aligning import offsets
from verifier.drawing.nets import Net, Outside, nets_of
from verifier.drawing.ordering import Run, tracks
from verifier.drawing.placing import Placement

PITCH = 3  # between parallel lines
ROOM = 4  # runs in one track end so far from each other
CORRIDOR = 2  # free above and below the tracks of a corridor
AISLE = 2  # free left and right of the tracks of an aisle
MARGIN = 4  # around everything


class Pads(Struct, frozen=True):
    """Room that frames need: at the lower and upper edge of rows, at both edges of columns."""

    under: tuple[int, ...]
    over: tuple[int, ...]
    left: tuple[int, ...]
    right: tuple[int, ...]


class Routed(Struct):
    """Exact places. x, y of items: of their left upper corners; y of a track goes down.

    spine: x, for nets that have one.   level: y, for each net and corridor with a track.
    left, right: edges of columns; top, bottom: edges of rows; edges: where lines leave the sheet.
    """

    placement: Placement
    nets: tuple[Net, ...]
    x: list[int]
    y: list[int]
    spine: dict[int, int]
    level: dict[tuple[int, int], int]
    left: list[int]
    right: list[int]
    top: list[int]
    bottom: list[int]
    width: int
    height: int
    edges: tuple[int, int]


class Plan(Struct, frozen=True):
    """What is known of a sheet before its lines are routed.

    offset: of each item from its column's origin.   first: the least of each column.
    link_room: how much is needed at the left and right edge for links to other sheets.
    """

    placement: Placement
    pads: Pads
    link_room: tuple[int, int]
    offset: tuple[int, ...]
    first: tuple[int, ...]
    widths: tuple[int, ...]


def planned(placement: Placement, pads: Pads, link_room: tuple[int, int]) -> Plan:
    offset = offsets(placement)
    first = [0] * placement.columns
    last = [10] * placement.columns
    for item, dx in zip(placement.items, offset, strict=True):
        first[item.column] = min(first[item.column], dx)
        last[item.column] = max(last[item.column], dx + item.figure.width)
    widths = tuple(b - a for a, b in zip(first, last, strict=True))
    return Plan(placement, pads, link_room, offset, tuple(first), widths)


def first_nets(plan: Plan, outside: dict[int, Outside]) -> tuple[Net, ...]:
    """The lines, each with its spine where its level runs are shortest."""
    about = [0]
    for width in plan.widths:
        about.append(about[-1] + width + 8)
    return nets_of(plan.placement, outside, about)


def route(plan: Plan, nets: tuple[Net, ...]) -> Routed:
    """Exact places of everything for these nets."""
    placement, pads = plan.placement, plan.pads
    spines, used = _aisles(placement, nets)
    left, right, aisle_x, width = _columns(list(plan.widths), used, pads, plan.link_room)
    edges = (plan.link_room[0], width - plan.link_room[1])
    routed = Routed(placement, nets, [], [], {}, {}, left, right, [], [], width, 0, edges)
    for item, dx in zip(placement.items, plan.offset, strict=True):
        routed.x.append(left[item.column] + dx - plan.first[item.column])
    for net, track in spines.items():
        aisle = nets[net].aisle
        assert aisle is not None
        routed.spine[net] = aisle_x[aisle] + PITCH * track
    _rows(routed, pads)
    return routed


def _aisles(placement: Placement, nets: tuple[Net, ...]) -> tuple[dict[int, int], list[int]]:
    """The track of each net's spine in its aisle, and how many tracks each aisle has."""
    spines: dict[int, int] = {}
    used = [0] * (placement.columns + 1)
    for aisle in range(placement.columns + 1):
        here = [k for k, net in enumerate(nets) if net.aisle == aisle]
        if not here:
            continue
        sides = [_sides(placement, nets[k], aisle) for k in here]
        runs = [Run(2 * nets[k].corridors[0], 2 * nets[k].corridors[-1]) for k in here]

        def crossings(
            a: int, b: int, sides: list[tuple[list[int], list[int]]] = sides, runs: list[Run] = runs
        ) -> int:
            """a left of b: level runs of a to the right cross b, those of b to the left cross a."""
            return _crossed(sides[a][1], runs[b]) + _crossed(sides[b][0], runs[a])

        prefer = [float(len(one[1]) - len(one[0])) for one in sides]
        found = tracks(runs, crossings, prefer, 1)
        used[aisle] = max(found) + 1
        spines.update(zip(here, found, strict=True))
    return spines, used


def _crossed(corridors: list[int], run: Run) -> int:
    """Twice how many of the level runs cross an upright run: half where it may or may not."""
    return sum(
        2 if run.first < 2 * corridor < run.last else 1
        for corridor in corridors
        if run.first <= 2 * corridor <= run.last
    )


def _sides(placement: Placement, net: Net, aisle: int) -> tuple[list[int], list[int]]:
    """The corridors in which a net goes on to the left of its aisle, and to the right."""
    left = {e.corridor for e in net.ends if placement.items[e.item].column < aisle}
    right = {e.corridor for e in net.ends if placement.items[e.item].column >= aisle}
    left |= {one.corridor for one in net.leaving if one.at_left}
    right |= {one.corridor for one in net.leaving if not one.at_left}
    return sorted(left), sorted(right)


def _columns(
    widths: list[int], used: list[int], pads: Pads, link_room: tuple[int, int]
) -> tuple[list[int], list[int], list[int], int]:
    """Left and right edges of the columns, the first track of each aisle, the whole width."""
    left, right, aisle_x = [], [], []
    x = MARGIN + link_room[0]
    for column, width in enumerate(widths):
        tracks_here = used[column]
        x += pads.right[column - 1] if column else 0
        aisle_x.append(x + AISLE)
        if tracks_here:
            x += 2 * AISLE + PITCH * (tracks_here - 1)
        elif column:
            x += AISLE
        x += pads.left[column]
        left.append(x)
        x += width
        right.append(x)
    x += pads.right[-1] if pads.right else 0
    aisle_x.append(x + AISLE)
    if used[-1]:
        x += 2 * AISLE + PITCH * (used[-1] - 1)
    return left, right, aisle_x, x + link_room[1] + MARGIN


class Corridor(Struct):
    """The nets in one corridor: xs of what comes from below, from above, and of their spines."""

    nets: list[int] = []
    below: list[list[int]] = []
    above: list[list[int]] = []
    runs: list[Run] = []


def _rows(routed: Routed, pads: Pads) -> None:
    placement = routed.placement
    heights = [0] * placement.rows
    for item in placement.items:
        heights[item.row] = max(heights[item.row], item.figure.height)
    corridors = [_corridor(routed, c) for c in range(placement.rows + 1)]
    found = [_tracked(corridor) for corridor in corridors]
    y = MARGIN
    routed.top, routed.bottom = [0] * placement.rows, [0] * placement.rows
    for c in range(placement.rows, -1, -1):
        y += pads.under[c] if c < placement.rows else 0
        deep = max(found[c], default=-1) + 1
        if deep:
            y += CORRIDOR
            for net, track in zip(corridors[c].nets, found[c], strict=True):
                routed.level[net, c] = y + PITCH * (deep - 1 - track)
            y += PITCH * (deep - 1) + CORRIDOR
        elif 0 < c < placement.rows:
            y += CORRIDOR
        if c:
            y += pads.over[c - 1]
            routed.top[c - 1] = y
            y += heights[c - 1]
            routed.bottom[c - 1] = y
    routed.height = y + MARGIN
    for item in placement.items:
        routed.y.append(routed.bottom[item.row] - item.figure.height)


def _corridor(routed: Routed, corridor: int) -> Corridor:
    """Everything in one corridor that needs a track: all but lines that go straight across."""
    here = Corridor()
    for k, net in enumerate(routed.nets):
        if corridor not in net.corridors:
            continue
        ends = [end for end in net.ends if end.corridor == corridor]
        below = [routed.x[e.item] + e.mouth.x for e in ends if e.side == "up"]
        above = [routed.x[e.item] + e.mouth.x for e in ends if e.side == "down"]
        xs = below + above
        xs += [routed.edges[not one.at_left] for one in net.leaving if one.corridor == corridor]
        if net.aisle is not None:
            x = routed.spine[k]
            xs.append(x)
            if corridor > net.corridors[0]:
                below = [*below, x]
            if corridor < net.corridors[-1]:
                above = [*above, x]
        if len(set(xs)) == 1 and net.aisle is None:
            continue
        here.nets.append(k)
        here.below.append(below)
        here.above.append(above)
        here.runs.append(Run(min(xs), max(xs)))
    return here


def _tracked(here: Corridor) -> list[int]:
    def crossings(a: int, b: int) -> int:
        """a under b: what goes up from a crosses b, what goes down from b crosses a."""
        up = sum(here.runs[b].first <= x <= here.runs[b].last for x in here.above[a])
        down = sum(here.runs[a].first <= x <= here.runs[a].last for x in here.below[b])
        return up + down

    prefer = [
        float(len(above) - len(below)) for below, above in zip(here.below, here.above, strict=True)
    ]
    return tracks(here.runs, crossings, prefer, ROOM)
