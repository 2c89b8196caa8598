"""Outlines of assemblies: which can be drawn, and the room they need."""

from __future__ import annotations

from collections import defaultdict

from msgspec import Struct

from verifier.drawing.placing import Placement
from verifier.drawing.routing import Pads
from verifier.drawing.told import Told

SIDE = 2  # between an outline and what it goes round, or another one in it
HEAD = 4  # above, where its name is written


class Outline(Struct, frozen=True):
    """An assembly on the matrix. level: how many outlines are nested in it at a shared edge."""

    assembly: str
    rows: tuple[int, int]
    columns: tuple[int, int]
    level: int


def within(inner: str, outer: str) -> bool:
    """Whether an assembled instance is another one, or stands in it."""
    return inner == outer or inner.startswith(outer + ".")


def outlines_of(told: Told, placement: Placement) -> tuple[Outline, ...]:
    """Outlines of the assemblies that have a rectangle of cells for themselves, innermost first."""
    parts = told.circuit.parts
    cells: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for item in placement.items:
        if item.part is None:
            continue
        name = parts[item.part].assembly
        while name:
            cells[name].append((item.row, item.column))
            name = name.rpartition(".")[0]
    found: list[Outline] = []
    for name in sorted(cells, key=lambda one: (-one.count("."), one)):
        rows = (min(row for row, _ in cells[name]), max(row for row, _ in cells[name]))
        columns = (min(col for _, col in cells[name]), max(col for _, col in cells[name]))
        strangers = any(
            rows[0] <= item.row <= rows[1]
            and columns[0] <= item.column <= columns[1]
            and (item.part is None or not within(parts[item.part].assembly, name))
            for item in placement.items
        )
        if strangers:
            continue
        inner = [one.level for one in found if within(one.assembly, name)]
        found.append(Outline(name, rows, columns, max(inner, default=-1) + 1))
    return tuple(found)


def pads_of(placement: Placement, outlines: tuple[Outline, ...]) -> Pads:
    under, over = [0] * placement.rows, [0] * placement.rows
    left, right = [0] * placement.columns, [0] * placement.columns
    for one in outlines:
        side, head = SIDE * (one.level + 1), HEAD * (one.level + 1)
        under[one.rows[0]] = max(under[one.rows[0]], side)
        over[one.rows[1]] = max(over[one.rows[1]], head)
        left[one.columns[0]] = max(left[one.columns[0]], side)
        right[one.columns[1]] = max(right[one.columns[1]], side)
    return Pads(tuple(under), tuple(over), tuple(left), tuple(right))
