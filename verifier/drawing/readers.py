"""Symbols of parts that air works and that pass none on: indicators, switches, brakes; and of
parts without air: doors, caps, pumps."""

from __future__ import annotations

from verifier.drawing.controls import hand_look
from verifier.drawing.figure import (
    Box,
    Figure,
    Shape,
    Stream,
    circle,
    head,
    polygon,
    rectangle,
    stroke,
)
from verifier.drawing.glyphs import glyph
from verifier.drawing.simple import Sketch, _only, _words
from verifier.drawing.squares import stream
from verifier.drawing.told import Told
from verifier.model.circuit import moving


def reader_figure(told: Told, part: int, name: str) -> Figure | None:
    """A part with one element that its only port moves and that opens no path, else None."""
    elements = moving(told.circuit, part)
    reads = told.roles[part].reads
    if len(elements) != 1 or told.passages[part] or told.flows[part] or len(reads) != 1:
        return None
    words = _words(told, part)
    if "indicator" in words:
        return _indicator(told, part, name, reads[0])
    if "switch" in words:
        return _switch(told, part, name, reads[0])
    return _cylinder(told, part, name, reads[0], brake="brake" in words)


def _indicator(told: Told, part: int, name: str, port: int) -> Figure:
    """A circle with a cross; half of it is filled while it shows."""
    sketch = Sketch(told, part, 12, 14)
    sketch.put(circle(5, 4.5, 3.5))
    sketch.line((2.53, 2.03), (7.47, 6.97))
    sketch.line((2.53, 6.97), (7.47, 2.03))
    sketch.line((5, 8), (5, 9), look="way")
    sketch.solid.append(Box(1, 1, 8, 8))
    sketch.port(port, 5, 9, up=False)
    lit = (
        Shape("M5 4.5L2.53 2.03A3.5 3.5 0 0 1 7.47 2.03Z", "head"),
        Shape("M5 4.5L2.53 6.97A3.5 3.5 0 0 0 7.47 6.97Z", "head"),
    )
    rest = told.circuit.elements[moving(told.circuit, part)[0]].start
    _positions(told, part, sketch, rest, lit, ())
    sketch.named(name, 10, 5)
    return sketch.figure()


def _positions(
    told: Told,
    part: int,
    sketch: Sketch,
    rest: int,
    worked: tuple[Shape, ...],
    resting: tuple[Shape, ...],
) -> None:
    element = told.circuit.elements[moving(told.circuit, part)[0]]
    sets = [resting if k == rest else worked for k in range(len(element.positions))]
    _only(told, part, sketch, sets)


def _switch(told: Told, part: int, name: str, port: int) -> Figure:
    sketch = Sketch(told, part, 14, 14)
    sketch.put(rectangle(1.5, 1.5, 8, 7))
    sketch.solid.append(Box(1, 1, 9, 8))
    sketch.line((5, 8.5), (5, 9), look="way")
    sketch.line((2.5, 3), (4, 3))
    sketch.line((7, 3), (8.5, 3))
    sketch.port(port, 5, 9, up=False)
    shut = (Shape(stroke((4, 3), (7, 3)), "body"),)
    open_ = (Shape(stroke((4, 3), (6.8, 5)), "body"),)
    rest = told.circuit.elements[moving(told.circuit, part)[0]].start
    _positions(told, part, sketch, rest, shut, open_)
    sketch.named(name, 11, 6)
    return sketch.figure()


def _cylinder(told: Told, part: int, name: str, port: int, *, brake: bool) -> Figure:
    """A single-acting cylinder with its spring; its rod is out while its element has moved."""
    sketch = Sketch(told, part, 22, 16)
    sketch.put(rectangle(2, 3, 12, 7))
    sketch.solid.append(Box(1, 2, 20, 8))
    sketch.port(port, 4, 10, up=False)

    def drawn(x: float) -> tuple[Shape, ...]:
        spring = [(x + 1.2 + (13.6 - x - 1.2) * i / 6, 4 if i % 2 else 9) for i in range(7)]
        shapes = [
            Shape(rectangle(x, 3.2, 1.2, 6.6), "head"),
            Shape(stroke(*spring), "thin"),
            Shape(stroke((x + 1.2, 6.5), (x + 12, 6.5)), "body"),
        ]
        end = x + 12
        block = rectangle(end - 1.2, 3.6, 1.8, 5.8) if brake else circle(end - 0.6, 6.5, 0.8)
        shapes.append(Shape(block, "hollow"))
        return tuple(shapes)

    rest = told.circuit.elements[moving(told.circuit, part)[0]].start
    _positions(told, part, sketch, rest, drawn(7.5), drawn(3.5))
    sketch.named(name, 7, 14.4)
    return sketch.figure()


def plain_figure(told: Told, part: int, name: str) -> Figure:
    """Any other part: its ports, its hands, and what it is called. Doors, pumps, and user kinds."""
    circuit = told.circuit
    sketch = Sketch(told, part, 16, 21)
    ports = circuit.parts[part].ports
    roles = told.roles[part]
    above = [port for port in ports if port in roles.gives]
    below = [port for port in ports if port not in roles.gives]
    across = max(len(above), len(below), 1)
    sketch.width = max(16, 4 + 6 * across)
    right = 2 + 6 * across
    sketch.put(rectangle(2, 5, right, 10))
    sketch.solid.append(Box(2, 5, right, 10))
    for k, port in enumerate(above):
        sketch.port(port, 4 + 6 * k, 5, up=True)
    for k, port in enumerate(below):
        sketch.port(port, 4 + 6 * k, 15, up=False)
    for passage in told.passages[part]:
        ends = []
        for port in passage.ports:
            top = port in above
            ends.append((4 + 6 * (above if top else below).index(port), 5 if top else 15))
        sketch.line(*ends, look="way")
        if passage.one_way:
            sketch.shapes.append(head(*ends[0], *ends[1]))
    _product(told, part, sketch, right)
    hands = circuit.parts[part].hands
    if hands:
        names = tuple(circuit.hands[hand].label for hand in hands)
        drawn = glyph("hand", hand_look(circuit, part, names), right + 2, 8, 1, 2.4)
        sketch.shapes += drawn.shapes
        sketch.width = max(sketch.width, right + 3 + int(drawn.length) + 1)
    bare = not told.flows[part] and not above
    sketch.named(name, 2 if bare else right + 3, 3.8 if bare else 14.4)
    return sketch.figure()


def _product(told: Told, part: int, sketch: Sketch, right: int) -> None:
    """A way for liquid or vapour that nothing shuts: a pump, or a non-return valve."""
    for flow in told.flows[part][:1]:
        way = told.way(flow)
        x = right / 2 + 2
        liquid = told.circuit.networks[flow.network].medium == "liquid"
        line = stroke((x, 18), (x, 2))
        down, up = stream(x, 2, 18)
        sketch.streams.append(Stream((flow.network, flow.way), down, up))
        for look in ("liquid",) if liquid else ("vapour", "core"):
            sketch.put(line, look)
        if "pump" in _words(told, part):
            sketch.put(circle(x, 10, 3.6))
            sketch.put(polygon((x - 2, 9), (x + 2, 9), (x, 6.4)), "head")
        elif way.one_way:
            sketch.put(polygon((x - 3, 7), (x + 3, 7), (x, 12)))
