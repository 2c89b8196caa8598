"""What the script of a page knows: the things that it moves, and every moment of every story."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.drawing.marks import Marks, Pressure, streams
from verifier.model.circuit import Circuit
from verifier.pages.frames import Air, Frame
from verifier.pages.tale import Point, Said, Tale

DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"
AIRS: tuple[Air, ...] = ("low", "high", "trapped low", "trapped high", "contested")
PRESSURES: dict[Air, Pressure] = {
    "low": "low",
    "high": "high",
    "trapped low": "trapped_low",
    "trapped high": "trapped_high",
    "contested": "contested",
}


class Moment(Struct, frozen=True):
    """air: a digit for each volume of the design, as in `Playing.pressures`; at: the position of
    each element.   ahead, back: ways on which something runs, as `NETWORK.WAY`.   moved: parts
    that just did.   said: what stands how, in words."""

    air: str
    at: str
    ahead: tuple[str, ...]
    back: tuple[str, ...]
    moved: tuple[str, ...]
    said: Said


class Shade(Struct, frozen=True):
    """What a proof rests on; of `tight` parts and lines it asks only that they let no air out."""

    name: str
    parts: tuple[str, ...]
    lines: tuple[str, ...]
    tight_parts: tuple[str, ...]
    tight_lines: tuple[str, ...]


class Line(Struct, frozen=True):
    """An event of a story that stands nowhere on the page but in the player."""

    label: str
    step: int
    by: str
    words: str
    cause: str
    air: tuple[str, ...]


class Sequel(Struct, frozen=True):
    """The moments of a tale. on: the drawing that they are moments of."""

    on: str
    moments: tuple[Moment, ...]


class Playing(Struct, frozen=True):
    """drawings: by name, the names of the elements in the order of the digits of `Moment.at`.
    told: the events of those tales that can be chosen, and how they end."""

    pressures: tuple[str, ...]
    drawings: dict[str, tuple[str, ...]]
    tales: dict[str, Sequel]
    shades: tuple[Shade, ...] = ()
    told: dict[str, list[Line]] = {}
    ends: dict[str, str] = {}


class Drawing(Struct, frozen=True):
    """A circuit that is drawn on the page, and the tales that are played on it. They may be of
    circuits that have more, after what it has."""

    name: str
    circuit: Circuit
    tales: Sequence[Tale]


def playing(
    drawings: Sequence[Drawing], shades: Sequence[Shade] = (), chosen: Sequence[Tale] = ()
) -> Playing:
    """Everything that the script moves. chosen: those of the tales that can be chosen."""
    return Playing(
        pressures=tuple(PRESSURES[air] for air in AIRS),
        drawings={
            one.name: tuple(element.name for element in one.circuit.elements) for one in drawings
        },
        tales={
            tale.id: Sequel(one.name, _moments(one.circuit, tale))
            for one in drawings
            for tale in one.tales
        },
        shades=tuple(shades),
        told={tale.id: [_line(point) for point in tale.points] for tale in chosen},
        ends={tale.id: tale.outcome for tale in chosen},
    )


def _line(point: Point) -> Line:
    air = tuple(f"{words}: {names}" for words, names in point.air)
    return Line(point.label, point.step, point.by, point.words, point.cause, air)


def _moments(design: Circuit, tale: Tale) -> tuple[Moment, ...]:
    return tuple(
        _moment(design, tale.circuit, frame, words)
        for frame, words in zip(tale.frames, tale.said, strict=True)
    )


def _moment(design: Circuit, circuit: Circuit, frame: Frame, said: Said) -> Moment:
    elements = len(design.elements)
    marks = Marks(positions=frame.state.positions, flows=frame.flows)
    running = streams(circuit, marks)
    moved = dict.fromkeys(
        circuit.parts[circuit.elements[element].part].name
        for element in frame.moved
        if element < elements
    )
    return Moment(
        air="".join(str(AIRS.index(air)) for air in frame.air[: len(design.volumes)]),
        at="".join(DIGITS[position] for position in frame.state.positions[:elements]),
        ahead=tuple(f"{network}.{way}" for (network, way), on in running.items() if on),
        back=tuple(f"{network}.{way}" for (network, way), on in running.items() if not on),
        moved=tuple(moved),
        said=said,
    )


def marks_of(design: Circuit, frame: Frame) -> Marks:
    """A moment as the drawing of the design shows it."""
    elements = len(design.elements)
    return Marks(
        pressures=tuple(PRESSURES[air] for air in frame.air[: len(design.volumes)]),
        positions=frame.state.positions[:elements],
        moved=tuple(element for element in frame.moved if element < elements),
        flows=frame.flows,
    )
