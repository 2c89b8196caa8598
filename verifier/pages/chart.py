"""Sequence charts: what each thing does over the steps of a run, one row a thing, drawn to scale.

A row is a drawing of its own, so that names may be as long as they like; each says in words what
it shows. Steps are columns; the start is column 0.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from typing import TypeVar

from markupsafe import Markup
from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.pages.frames import WORDS, Air, Frame
from verifier.studies.names import element_name, spoken

Value = TypeVar("Value")

COLUMN = 36
HEIGHT = 26
TOP, BOTTOM = 5, 21
SLANT = 9  # so far before the end of a column a thing that moves leaves its place


class Row(Struct, frozen=True):
    """scale: what stands for the bottom and what for the top, "" if that needs no words.
    words: what the row shows.   part: that it belongs to, "" if none."""

    name: str
    scale: str
    drawing: Markup
    words: str
    part: str = ""


class Group(Struct, frozen=True):
    name: str
    rows: tuple[Row, ...]


class Chart(Struct, frozen=True):
    """still: so many things have no row, as nothing happens to them.   bad: the last column shows
    what must not be.   again: the columns from this one on are gone through for ever; None if not.
    begins: the procedure begins after this column; None if there is none."""

    steps: int
    width: int
    head: Markup
    groups: tuple[Group, ...]
    still: int
    bad: bool
    again: int | None
    begins: int | None


def chart_of(
    circuit: Circuit,
    frames: Sequence[Frame],
    *,
    bad: bool,
    again: int | None = None,
    begins: int | None = None,
) -> Chart:
    """The chart of a run, with a row for everything that happens in it."""
    indicators = {
        e for e, one in enumerate(circuit.elements) if "indicator" in circuit.parts[one.part].roles
    }
    every = range(len(circuit.elements))
    faults = [e for e in every if circuit.elements[e].fault]
    others = [e for e in every if e not in indicators and e not in faults]
    groups = (
        Group("Faults", tuple(_elements(circuit, frames, faults))),
        Group("Hands and surroundings", tuple(_hands(circuit, frames))),
        Group("Elements", tuple(_elements(circuit, frames, others))),
        Group("Lines", tuple(_lines(circuit, frames))),
        Group("Indicators", tuple(_elements(circuit, frames, sorted(indicators)))),
    )
    shown = sum(len(group.rows) for group in groups)
    things = len(circuit.hands) + len(circuit.switches) + len(circuit.elements)
    things += len(circuit.lines)
    return Chart(
        steps=len(frames) - 1,
        width=len(frames) * COLUMN,
        head=_head(len(frames)),
        groups=tuple(group for group in groups if group.rows),
        still=things - shown,
        bad=bad,
        again=again,
        begins=begins,
    )


def _hands(circuit: Circuit, frames: Sequence[Frame]) -> Iterator[Row]:
    for number, switch in enumerate(circuit.switches):
        values = [frame.state.settings[number] for frame in frames]
        if len(set(values)) > 1:
            order = sorted(range(len(switch.values)), key=lambda v: _strength(switch.values[v]))
            levels = [order.index(value) for value in values]
            scale = tuple(spoken(switch.values[value]) for value in order)
            yield _stepped(switch.name, scale, levels)
    for number, hand in enumerate(circuit.hands):
        part = circuit.parts[hand.part].name
        acted = [number in frame.acting for frame in frames]
        held = [frame.state.hands[number] for frame in frames]
        if any(acted):
            columns = [column for column, acts in enumerate(acted) if acts]
            label = spoken(hand.label)
            words = f"{label} in {_steps(columns)}"
            yield Row(f"{part}: {label}", "", _pulses(len(frames), columns), words, part)
        elif len(set(held)) > 1:
            both = ("let go", f"held {spoken(hand.label)}")
            yield _stepped(part, both, [int(on) for on in held], part)


def _strength(value: str) -> int:
    """No air from a supply stands below, full air on top, other values in their own order."""
    return {"absent": -1, "weak": 0, "present": 1}.get(value, 0)


def _elements(circuit: Circuit, frames: Sequence[Frame], which: Sequence[int]) -> Iterator[Row]:
    for number in which:
        element = circuit.elements[number]
        levels = [frame.state.positions[number] for frame in frames]
        if len(set(levels)) > 1:
            words = tuple(map(spoken, element.positions))
            name = element.doc if element.fault else element_name(circuit, number)
            yield _stepped(name, words, levels, circuit.parts[element.part].name)


def _lines(circuit: Circuit, frames: Sequence[Frame]) -> Iterator[Row]:
    for line in circuit.lines:
        airs = [frame.air[line.volume] for frame in frames]
        if len(set(airs)) > 1:
            told = [f"{WORDS[air]} {_when(first)}" for air, first, _ in spans(airs)]
            yield Row(line.name, "", _band(airs), "; ".join(told))


def _stepped(name: str, words: tuple[str, ...], levels: Sequence[int], part: str = "") -> Row:
    told = [f"{words[level]} {_when(first)}" for level, first, _ in spans(levels)]
    scale = " / ".join(reversed(words))
    return Row(name, scale, _signal(levels, len(words)), "; ".join(told), part)


def _when(column: int) -> str:
    return "at the start" if column == 0 else f"from step {column}"


def _steps(columns: Sequence[int]) -> str:
    told = ", ".join(map(str, columns))
    return f"{'step' if len(columns) == 1 else 'steps'} {told}"


def _head(columns: int) -> Markup:
    return Markup("").join(
        Markup('<text x="{}" y="16" text-anchor="middle">{}</text>').format(_middle(k), k)
        for k in range(columns)
    )


def _middle(column: int) -> int:
    return column * COLUMN + COLUMN // 2


def _signal(levels: Sequence[int], count: int) -> Markup:
    """A line that stands as high as the position; it slants where the thing moves."""

    def height(level: int) -> float:
        return BOTTOM - (BOTTOM - TOP) * level / max(count - 1, 1)

    points = [f"M0 {height(levels[0]):g}"]
    for column, (level, after) in enumerate(pairwise(levels)):
        end = (column + 1) * COLUMN
        if level != after:
            points.append(f"H{end - SLANT}L{end} {height(after):g}")
    points.append(f"H{len(levels) * COLUMN}")
    return Markup('<path class="signal" d="{}"/>').format("".join(points))


def _pulses(columns: int, acted: Sequence[int]) -> Markup:
    """A hand that acts for a moment does so where the step before ends."""
    path = [f"M0 {BOTTOM}"]
    for column in acted:
        x = column * COLUMN
        path.append(f"H{x - SLANT}V{TOP}H{x}V{BOTTOM}")
    path.append(f"H{columns * COLUMN}")
    return Markup('<path class="signal" d="{}"/>').format("".join(path))


_CLASSES: dict[Air, str] = {
    "high": "high",
    "trapped high": "kept",
    "trapped low": "cut",
    "contested": "torn",
}


def _band(airs: Sequence[Air]) -> Markup:
    """A base line; a full bar is air, a hatched one kept air, a dotted line no air cut off, and a
    zigzag an in-between pressure."""
    found = [Markup('<path class="base" d="M0 {}H{}"/>').format(BOTTOM, len(airs) * COLUMN)]
    for air, first, last in spans(airs):
        x, width = first * COLUMN, (last - first) * COLUMN
        if air in ("high", "trapped high"):
            bar = '<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>'
            found.append(Markup(bar).format(_CLASSES[air], x, TOP + 3, width, BOTTOM - TOP - 3))
        elif air == "contested":
            found.append(Markup('<path class="torn" d="{}"/>').format(_zigzag(x, x + width)))
        elif air == "trapped low":
            dots = '<path class="cut" d="M{} {}H{}"/>'
            found.append(Markup(dots).format(x, BOTTOM - 4, x + width))
    return Markup("").join(found)


def _zigzag(start: int, end: int) -> str:
    ups = range(start, end, 6)
    points = [f"L{x + 3} {TOP + 2}L{x + 6} {BOTTOM}" for x in ups]
    return f"M{start} {BOTTOM}{''.join(points)}"


def spans(values: Sequence[Value]) -> list[tuple[Value, int, int]]:
    """Each value as long as it lasts: from which column, and up to which."""
    found = []
    place = 0
    for value, group in groupby(values):
        count = sum(1 for _ in group)
        found.append((value, place, place + count))
        place += count
    return found
