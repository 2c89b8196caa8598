"""Splitting what is too large for one sheet: by compartments, and by rows of assemblies."""

from __future__ import annotations

from collections import defaultdict

from msgspec.structs import replace

from verifier.drawing.frames import outlines_of
from verifier.drawing.layout import BLOCK, Sheet
from verifier.drawing.nets import Outside
from verifier.drawing.paper import PAPERS, SMALLEST
from verifier.drawing.placing import Item, Placement
from verifier.drawing.sheet import sheet_of
from verifier.drawing.told import Told

BETWEEN = (9, 10)  # what aisles and corridors are taken to need, to begin with
LINKS = 70  # width for links at both edges, to begin with
TRIES = 8


def split(told: Told, placement: Placement) -> list[Sheet]:
    """Sheets that can each be read on A3, numbered from the left and from below.

    A single column or assembly that is too large by itself stays whole.
    """
    across, down = (length / SMALLEST for length in PAPERS["A3"])
    room, height = across - LINKS, down - BLOCK
    sheets: list[Sheet] = []
    for _ in range(TRIES):
        sheets = _sheets(told, _groups(told, placement, room, height))
        wide = max(sheet.width for sheet in sheets) / across
        high = max(sheet.height for sheet in sheets) / down
        if wide <= 1 and high <= 1:
            break
        room, height = room / max(1.0, wide + 0.02), height / max(1.0, high + 0.02)
    return sheets


def _groups(told: Told, placement: Placement, room: float, height: float) -> list[tuple[Item, ...]]:
    """The items of each sheet. room, height: what they may need without links."""
    widths = [0] * placement.columns
    heights = [0] * placement.rows
    for item in placement.items:
        widths[item.column] = max(widths[item.column], item.figure.width + BETWEEN[0])
        heights[item.row] = max(heights[item.row], item.figure.height + BETWEEN[1])
    bands = _packed(_row_groups(told, placement), heights, height)
    common = list(range(placement.common))
    rest = list(range(placement.common, placement.columns))
    if len(bands) == 1:
        chunks = _packed(([common] if common else []) + [[c] for c in rest], widths, room)
        cells = [(set(bands[0]), set(chunk)) for chunk in chunks]
    else:
        chunks = _packed([[column] for column in rest], widths, room)
        sides = _packed([[column] for column in common], widths, room)
        cells = [(set(band), set(side)) for side in sides for band in bands]
        cells += [(set(band), set(chunk)) for band in bands for chunk in chunks]
    found = [
        tuple(item for item in placement.items if item.row in rows and item.column in columns)
        for rows, columns in cells
    ]
    return [items for items in found if items]


def _row_groups(told: Told, placement: Placement) -> list[list[int]]:
    """Rows, those of one assembly together."""
    joined = [False] * (placement.rows + 1)  # whether a row belongs to the one below it
    for one in outlines_of(told, placement):
        for row in range(one.rows[0] + 1, one.rows[1] + 1):
            joined[row] = True
    groups: list[list[int]] = []
    for row in range(placement.rows):
        if joined[row] and groups:
            groups[-1].append(row)
        else:
            groups.append([row])
    return groups


def _packed(groups: list[list[int]], sizes: list[int], room: float) -> list[list[int]]:
    """Neighbouring groups together, as long as they fit, and evenly filled."""
    total = sum(sizes[k] for group in groups for k in group)
    even = total / max(1, -(-total // max(1, int(room)))) if total else room
    found: list[list[int]] = []
    used = 0.0
    for group in groups:
        size = sum(sizes[k] for k in group)
        if found and used + size <= room and used + size / 2 <= even:
            found[-1] += group
            used += size
        else:
            found.append(list(group))
            used = size
    return found


def _sheets(told: Told, groups: list[tuple[Item, ...]]) -> list[Sheet]:
    where: dict[int, dict[int, bool]] = defaultdict(dict)  # volume, sheet: only pilots there
    for number, items in enumerate(groups, 1):
        for item in items:
            for mouth in item.figure.mouths:
                so_far = where[mouth.volume].get(number, True)
                where[mouth.volume][number] = so_far and mouth.pilot
    sheets = []
    for number, items in enumerate(groups, 1):
        outside = {
            volume: _outside(numbers, number)
            for volume, numbers in sorted(where.items())
            if number in numbers and len(numbers) > 1
        }
        sheets.append(sheet_of(told, _compact(items), number, outside))
    return sheets


def _outside(sheets: dict[int, bool], here: int) -> Outside:
    """sheets: on which a line has mouths, in their order, and whether these are all pilots."""
    before = [number for number in sheets if number < here]
    after = [number for number in sheets if number > here]
    return Outside(
        tuple(before[-1:]),
        tuple(after[:1]),
        (all(sheets[number] for number in before), all(sheets[number] for number in after)),
    )


def _compact(items: tuple[Item, ...]) -> Placement:
    """Items by themselves, without empty rows and columns."""
    rows = {row: k for k, row in enumerate(sorted({item.row for item in items}))}
    columns = {column: k for k, column in enumerate(sorted({item.column for item in items}))}
    moved = tuple(replace(item, row=rows[item.row], column=columns[item.column]) for item in items)
    return Placement(len(rows), len(columns), moved)
