"""Lines on the matrix of rows and columns, before exact places are known.

A corridor lies under each row and one above the highest: corridor r is under row r. An aisle lies
left of each column and one right of the last: aisle c is left of column c. A line runs level in
the corridors where it has mouths; if there are several, one upright spine in an aisle joins them.
"""

from __future__ import annotations

from collections import defaultdict

from msgspec import Struct

from verifier.drawing.figure import Mouth, Side
from verifier.drawing.placing import Placement


class End(Struct, frozen=True, gc=False):
    """A mouth of an item (index), and the side on which its line goes on."""

    item: int
    mouth: Mouth
    side: Side
    corridor: int


class Leaving(Struct, frozen=True, gc=False):
    """Where a line leaves the sheet, in a corridor, and to which sheets.

    pilot: it only feeds pilots there.
    """

    corridor: int
    at_left: bool
    to: tuple[int, ...]
    pilot: bool


class Net(Struct, frozen=True):
    """The line of a volume on a sheet. aisle: of its spine, None if it has one corridor only."""

    volume: int
    ends: tuple[End, ...]
    leaving: tuple[Leaving, ...]
    aisle: int | None

    @property
    def corridors(self) -> tuple[int, ...]:
        found = {end.corridor for end in self.ends} | {one.corridor for one in self.leaving}
        return tuple(sorted(found))


class Outside(Struct, frozen=True):
    """Sheets with a smaller and with a larger number on which a volume has mouths, too.

    pilots: whether all mouths on sheets before, and all on sheets after, are pilots.
    """

    before: tuple[int, ...]
    after: tuple[int, ...]
    pilots: tuple[bool, bool]


def nets_of(
    placement: Placement, outside: dict[int, Outside], columns: list[int]
) -> tuple[Net, ...]:
    """columns: about where the aisles are.   outside: of the volumes that go on elsewhere."""
    mouths: dict[int, list[tuple[int, Mouth]]] = defaultdict(list)
    for k, item in enumerate(placement.items):
        for mouth in item.figure.mouths:
            mouths[mouth.volume].append((k, mouth))
    load = [0] * (placement.columns + 1)
    found = []
    for volume in sorted(mouths):
        ends = _ends(placement, mouths[volume])
        elsewhere = outside.get(volume)
        if len(ends) < 2 and elsewhere is None:
            continue
        leaving = _leaving(ends, elsewhere)
        net = Net(volume, ends, leaving, None)
        if len(net.corridors) > 1:
            aisle = _aisle(placement, net, columns, load)
            load[aisle] += 1
            net = Net(volume, ends, leaving, aisle)
        found.append(net)
    return tuple(found)


def _ends(placement: Placement, mouths: list[tuple[int, Mouth]]) -> tuple[End, ...]:
    """Where a mouth lets the line choose, it goes to where the line is, or towards the rest."""
    fixed: list[int] = []
    for item, mouth in mouths:
        if len(mouth.ways) == 1:
            row = placement.items[item].row
            fixed.append(row if mouth.ways[0] == "down" else row + 1)
    ends = []
    known = set(fixed)
    rows = [placement.items[item].row for item, _ in mouths]
    middle = sum(fixed) / len(fixed) if fixed else sum(rows) / len(rows)
    for item, mouth in mouths:
        row = placement.items[item].row
        side: Side = mouth.ways[0]
        if len(mouth.ways) > 1:
            under, over = row in known, row + 1 in known
            up = over if under != over else middle > row + 0.5
            side = "up" if up else "down"
            known.add(row + 1 if up else row)
        ends.append(End(item, mouth, side, row + 1 if side == "up" else row))
    return tuple(ends)


def _leaving(ends: tuple[End, ...], elsewhere: Outside | None) -> tuple[Leaving, ...]:
    """It leaves in the corridor where most of its ends are, the lowest of them."""
    if elsewhere is None:
        return ()
    corridors = [end.corridor for end in ends]
    chosen = max(sorted(set(corridors)), key=corridors.count)
    both = (
        Leaving(chosen, True, elsewhere.before, elsewhere.pilots[0]),
        Leaving(chosen, False, elsewhere.after, elsewhere.pilots[1]),
    )
    return tuple(one for one in both if one.to)


def _aisle(placement: Placement, net: Net, columns: list[int], load: list[int]) -> int:
    """The aisle that makes the level runs shortest; less used ones among equals."""
    reach: dict[int, tuple[int, int]] = {}
    for end in net.ends:
        x = columns[placement.items[end.item].column] + end.mouth.x
        first, last = reach.get(end.corridor, (x, x))
        reach[end.corridor] = (min(first, x), max(last, x))
    for one in net.leaving:
        x = columns[0] if one.at_left else columns[-1]
        first, last = reach.get(one.corridor, (x, x))
        reach[one.corridor] = (min(first, x), max(last, x))

    def cost(aisle: int) -> tuple[int, int]:
        x = columns[aisle]
        length = sum(max(last, x) - min(first, x) for first, last in reach.values())
        return length + 3 * load[aisle], aisle

    return min(range(placement.columns + 1), key=cost)
