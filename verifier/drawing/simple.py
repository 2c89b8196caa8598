"""Symbols of parts that are no directional valves: told by their passages, not by their names.

Only where the data is the same - a filter, a receiver, a silencer are all one free passage - the
words of the kind decide.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from verifier.drawing.figure import (
    NAME,
    SMALL,
    Box,
    Figure,
    Mouth,
    Moving,
    Only,
    Shape,
    Side,
    Stream,
    Text,
    circle,
    head,
    polygon,
    rectangle,
    shortened,
    stroke,
    width_of,
)
from verifier.drawing.squares import exhaust, plug
from verifier.drawing.told import Told
from verifier.model.circuit import Passage, Supply, moving
from verifier.model.condition import All, High

LONGEST_NAME = 42.0


class Sketch:
    """Collects a figure around an axis that is drawn from bottom (y = height) to top."""

    def __init__(self, told: Told, part: int, width: int, height: int) -> None:
        self.told, self.part = told, part
        self.width, self.height = width, height
        self.shapes: list[Shape] = []
        self.texts: list[Text] = []
        self.moving: list[Moving] = []
        self.mouths: list[Mouth] = []
        self.solid: list[Box] = []
        self.streams: list[Stream] = []

    def line(self, *points: tuple[float, float], look: str = "body") -> None:
        self.shapes.append(Shape(stroke(*points), look))

    def put(self, d: str, look: str = "hollow") -> None:
        self.shapes.append(Shape(d, look))

    def port(self, port: int, x: int, y: int, *, up: bool, pilot: bool = False) -> None:
        """The mouth of a port at (x, y), or its open end or plug, and its label."""
        circuit = self.told.circuit
        told = circuit.ports[port]
        baseline = y - 0.8 if up else y + 2.7
        self.texts.append(Text(x + 0.8, baseline, told.label, SMALL, "start", "port"))
        if told.state == "piped" or len(circuit.volumes[told.volume].ports) > 1:
            gives = port in self.told.roles[self.part].gives
            side: Side = "up" if up else "down"
            self.mouths.append(Mouth(port, told.volume, x, y, (side,), pilot, gives))
        elif told.state == "atmosphere":
            self.shapes += exhaust(x, y, (0, -1 if up else 1))
        else:
            self.shapes += plug(x, y, (0, -1 if up else 1))

    def named(self, name: str, x: float, y: float) -> None:
        """Writes the name to the right of x and widens the figure for it."""
        said = shortened(name, NAME, LONGEST_NAME)
        self.texts.append(Text(x, y, said, NAME, "start", "name"))
        self.width = max(self.width, math.ceil(x + width_of(said, NAME)) + 1)

    def figure(self) -> Figure:
        return Figure(
            self.width,
            self.height,
            tuple(self.solid),
            tuple(self.shapes),
            tuple(self.texts),
            tuple(self.moving),
            tuple(self.mouths),
            tuple(self.streams),
        )


def supply_figure(supply: Supply, name: str) -> Figure:
    """A source of compressed air: an open triangle that points into the circuit."""
    said = shortened(name, NAME, LONGEST_NAME)
    width = max(12, math.ceil(7.5 + width_of(said, NAME)) + 1)
    shapes = (
        Shape(polygon((1.4, 9), (6.6, 9), (4, 4.5)), "hollow"),
        Shape(stroke((4, 4.5), (4, 3)), "way"),
    )
    text = Text(7.5, 8.4, said, NAME, "start", "name")
    mouth = Mouth(None, supply.volume, 4, 3, ("up",), False, True)
    return Figure(width, 11, (Box(1, 4, 6, 5),), shapes, (text,), (), (mouth,))


def _straight(told: Told, part: int, name: str, inside: Callable[[Sketch], None]) -> Figure:
    """A part with one way through: air goes in below and comes out above."""
    roles = told.roles[part]
    passage = told.passages[part][0]
    below, above = passage.ports
    if above in roles.takes and below in roles.gives and not passage.one_way:
        below, above = above, below
    sketch = Sketch(told, part, 14, 21)
    sketch.port(above, 5, 5, up=True)
    sketch.port(below, 5, 15, up=False)
    sketch.solid.append(Box(1, 5, 9, 10))
    inside(sketch)
    sketch.named(name, 11.5, 11)
    return sketch.figure()


def _through(sketch: Sketch) -> None:
    sketch.line((5, 5), (5, 15), look="way")


def _restrictor(sketch: Sketch) -> None:
    _through(sketch)
    for side in (-1, 1):
        x0, x1 = 5 + 2.6 * side, 5 + 0.9 * side
        sketch.put(f"M{x0} 7Q{x1 - 0.2 * side} 10 {x0} 13", "body")


def _non_return(sketch: Sketch, x: float = 5.0) -> None:
    """A ball on its seat: air comes from below and lifts it."""
    sketch.line((x, 15), (x, 11.4), look="way")
    sketch.line((x, 8), (x, 5), look="way")
    sketch.line((x - 2.2, 8.6), (x, 11.4), (x + 2.2, 8.6))
    sketch.put(circle(x, 9.3, 1.35))


def _one_way_flow_control(restricted_up: bool) -> Callable[[Sketch], None]:
    def inside(sketch: Sketch) -> None:
        sketch.line((5, 15), (5, 14), (2.6, 14), (2.6, 6), (5, 6), (5, 5), look="way")
        for side in (-1, 1):
            x0, x1 = 2.6 + 1.7 * side, 2.6 + 0.5 * side
            sketch.put(f"M{x0} 7.6Q{x1} 10 {x0} 12.4", "body")
        y = [14, 11, 8, 6] if not restricted_up else [6, 9, 12, 14]
        s = 1 if not restricted_up else -1
        sketch.line((5, y[0]), (8, y[0]), (8, y[1]), look="way")
        sketch.line((8, y[2]), (8, y[3]), (5, y[3]), look="way")
        sketch.line((6.2, y[1] - 2.4 * s), (8, y[1]), (9.8, y[1] - 2.4 * s))
        sketch.put(circle(8, y[1] - 1.9 * s, 1.15))

    return inside


def _diamond(sketch: Sketch) -> None:
    """A filter: conditioning of air is a square on its corner."""
    _through(sketch)
    sketch.put(polygon((5, 6), (9, 10), (5, 14), (1, 10)))
    sketch.put("M1 10L9 10", "inner")


def _receiver(sketch: Sketch) -> None:
    sketch.line((5, 5), (5, 6.5), look="way")
    sketch.line((5, 13.5), (5, 15), look="way")
    sketch.put("M2 8.5a3 2 0 0 1 6 0v3a3 2 0 0 1 -6 0Z")


def _regulator(relieving: bool) -> Callable[[Sketch], None]:
    def inside(sketch: Sketch) -> None:
        sketch.put(rectangle(1.5, 6.5, 7, 7))
        sketch.line((5, 5), (5, 15), look="way")
        sketch.shapes.append(head(5, 12, 5, 7.2))
        sketch.line((8.5, 10), (9.1, 8.8), (9.6, 11.2), (10.1, 8.8), (10.6, 11.2))
        if relieving:
            sketch.line((2.4, 12.8), (3.4, 11.4), (4.4, 12.8))

    return inside


def _silencer(sketch: Sketch) -> None:
    _through(sketch)
    sketch.put(rectangle(2.8, 7, 4.4, 6))
    for y in (8.5, 10, 11.5):
        sketch.line((3.8, y), (6.2, y))


def _plain(sketch: Sketch) -> None:
    sketch.put(rectangle(1.5, 6.5, 7, 7))
    _through(sketch)


def _words(told: Told, part: int) -> str:
    return f"{told.circuit.parts[part].kind} {told.circuit.parts[part].kind_doc}".lower()


def passage_figure(told: Told, part: int, name: str) -> Figure | None:
    """The symbol of a part without moving elements and with one way through, else None."""
    passages = told.passages[part]
    ports = {port for passage in passages for port in passage.ports}
    words = _words(told, part)
    if not passages or len(ports) != 2:
        return None
    if moving(told.circuit, part):
        return _straight(told, part, name, _regulator(False)) if "regulator" in words else None
    first = passages[0]
    inside: Callable[[Sketch], None]
    if len(passages) == 2 and all(passage.one_way for passage in passages):
        narrow = next((p for p in passages if p.bore == "restricted"), first)
        upwards = narrow.ports == first.ports
        inside = _one_way_flow_control(upwards)
    elif first.one_way:
        inside = _non_return
    elif first.bore == "restricted":
        inside = _restrictor
    elif "filter" in words:
        inside = _diamond
    elif "receiver" in words or "reservoir" in words:
        inside = _receiver
    elif "silencer" in words:
        inside = _silencer
    elif "regulator" in words:
        inside = _regulator(True)
    else:
        inside = _plain
    return _straight(told, part, name, inside)


def _only(told: Told, part: int, sketch: Sketch, sets: list[tuple[Shape, ...]]) -> None:
    """Shapes for each position of the part's only element."""
    element = moving(told.circuit, part)[0]
    start = told.circuit.elements[element].start
    only = tuple(Only((k,), shapes) for k, shapes in enumerate(sets))
    sketch.moving.append(Moving(element, start, (0,) * len(sets), (), only))


def _branches(passages: tuple[Passage, ...]) -> tuple[int, list[int]] | None:
    """The port that both of two passages share, and the two others."""
    if len(passages) != 2:
        return None
    shared = set(passages[0].ports) & set(passages[1].ports)
    others = [port for p in passages for port in p.ports if port not in shared]
    return (shared.pop(), others) if len(shared) == 1 and len(others) == 2 else None


def logic_figure(told: Told, part: int, name: str) -> Figure | None:
    """Shuttle, two-pressure and quick-exhaust valves, told by how their element moves."""
    circuit = told.circuit
    elements = moving(circuit, part)
    branches = _branches(told.passages[part])
    if len(elements) != 1 or branches is None or told.flows[part]:
        return None
    element = circuit.elements[elements[0]]
    if len(element.positions) != 2 or element.otherwise is not None or len(element.moves) != 2:
        return None
    out, others = branches
    opens: dict[int, int] = {}
    for passage in told.passages[part]:
        if len(passage.where) != 1 or len(passage.where[0].positions) != 1:
            return None
        opens[passage.where[0].positions[0]] = next(p for p in passage.ports if p != out)
    pushed = []
    for move in element.moves:
        atoms = move.when.of if isinstance(move.when, All) else (move.when,)
        pushed.append([a.port for a in atoms if isinstance(a, High)])
    if any(len(ports) != 1 for ports in pushed) or len(opens) != 2:
        return None
    asked = {ports[0] for ports in pushed}
    if any(circuit.ports[port].exhaust for port in others):
        if not asked <= {out, *others}:
            return None
        return _quick_exhaust(told, part, name, out, others, opens)
    if asked != set(others):
        return None
    same = [
        opens[move.target] == ports[0] for move, ports in zip(element.moves, pushed, strict=True)
    ]
    if all(same):
        return _two_inlets(told, part, name, out, others, opens, shuttle=True)
    if not any(same):
        return _two_inlets(told, part, name, out, others, opens, shuttle=False)
    return None


def _two_inlets(
    told: Told,
    part: int,
    name: str,
    out: int,
    others: list[int],
    opens: dict[int, int],
    *,
    shuttle: bool,
) -> Figure:
    """A chamber with an inlet at each end and the outlet above, and what shuts one of them."""
    sketch = Sketch(told, part, 18, 21)
    sketch.put(rectangle(2, 7, 14, 8))
    sketch.solid.append(Box(2, 7, 14, 8))
    sketch.line((9, 7), (9, 5), look="way")
    sketch.port(out, 9, 5, up=True)
    for port, x in zip(others, (4, 14), strict=True):
        sketch.port(port, x, 15, up=False)
    sets = []
    for position in range(2):
        passing = others.index(opens[position])
        x_open, x_shut = ((4.0, 14.0), (14.0, 4.0))[passing]
        shapes = [Shape(stroke((x_open, 15), (x_open, 11), (9, 11), (9, 7)), "way")]
        if shuttle:
            shapes += [
                Shape(stroke((x_shut - 1.6, 12.2), (x_shut, 14.6), (x_shut + 1.6, 12.2)), "body")
            ]
            shapes += [Shape(circle(x_shut, 12.4, 1.3), "hollow")]
            shapes += [Shape(stroke((x_open - 1.6, 12.2), (x_open - 0.5, 13.9)), "body")]
            shapes += [Shape(stroke((x_open + 1.6, 12.2), (x_open + 0.5, 13.9)), "body")]
        else:
            shapes += [Shape(rectangle(x_shut - 1.4, 12.2, 2.8, 1.4), "head")]
            shapes += [
                Shape(stroke((x_shut, 12.2), (x_shut, 9.4), (x_open, 9.4), (x_open, 10)), "body")
            ]
            shapes += [Shape(rectangle(x_open - 1.4, 9.9, 2.8, 1.0), "hollow")]
        sets.append(tuple(shapes))
    _only(told, part, sketch, sets)
    sketch.named(name, 17, 12)
    return sketch.figure()


def _quick_exhaust(
    told: Told, part: int, name: str, out: int, others: list[int], opens: dict[int, int]
) -> Figure:
    """The outlet above; the inlet below left; the exhaust below right, with a lip between them."""
    circuit = told.circuit
    inlet, outlet = sorted(others, key=lambda port: circuit.ports[port].exhaust)
    sketch = Sketch(told, part, 22, 21)
    sketch.put(rectangle(2, 7, 12, 8))
    sketch.solid.append(Box(2, 7, 12, 8))
    sketch.line((4, 7), (4, 5), look="way")
    sketch.port(out, 4, 5, up=True)
    sketch.port(inlet, 4, 15, up=False)
    sketch.port(outlet, 10, 15, up=False)
    sets = []
    for position in range(2):
        filling = opens[position] == inlet
        x_shut = 10 if filling else 4
        path = [(4, 15), (4, 7)] if filling else [(4, 7), (4, 10), (10, 10), (10, 15)]
        shapes = [Shape(stroke(*path), "way"), head(*path[-2], *path[-1])]
        shapes.append(
            Shape(stroke((x_shut - 1.6, 12.4), (x_shut, 14.6), (x_shut + 1.6, 12.4)), "body")
        )
        shapes.append(Shape(circle(x_shut, 12.8, 1.2), "hollow"))
        sets.append(tuple(shapes))
    _only(told, part, sketch, sets)
    sketch.named(name, 15, 12)
    return sketch.figure()


def piloted_non_return_figure(told: Told, part: int, name: str) -> Figure | None:
    """A non-return valve that a pilot holds open: one way always, the other by an element."""
    circuit = told.circuit
    elements = moving(circuit, part)
    passages = told.passages[part]
    if len(elements) != 1 or len(passages) != 2 or told.flows[part]:
        return None
    free = [p for p in passages if p.one_way and not p.where]
    back = [p for p in passages if p.one_way and p.where]
    if len(free) != 1 or len(back) != 1 or free[0].ports != back[0].ports[::-1]:
        return None
    reads = told.roles[part].reads
    if len(reads) != 1:
        return None
    sketch = Sketch(told, part, 20, 21)
    sketch.port(free[0].ports[1], 5, 5, up=True)
    sketch.port(free[0].ports[0], 5, 15, up=False)
    sketch.solid.append(Box(1, 5, 9, 10))
    _non_return(sketch)
    sketch.port(reads[0], 12, 15, up=False, pilot=True)
    sketch.put("M12 15L12 12L5 12", "inner")
    at = circuit.elements[elements[0]].positions
    lifted = [0 if k not in back[0].where[0].positions else 1 for k in range(len(at))]
    sets: list[tuple[Shape, ...]] = [
        (Shape(stroke((5, 13), (5, 10.7)), "body"), head(5, 13, 5, 10.9)) if up else ()
        for up in lifted
    ]
    _only(told, part, sketch, sets)
    sketch.named(name, 13, 9)
    return sketch.figure()
