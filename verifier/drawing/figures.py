"""Which symbol a part gets."""

from __future__ import annotations

from msgspec.structs import replace

from verifier.drawing.figure import Figure
from verifier.drawing.readers import plain_figure, reader_figure
from verifier.drawing.simple import logic_figure, passage_figure, piloted_non_return_figure
from verifier.drawing.told import Told
from verifier.drawing.valve import element_figure
from verifier.model.circuit import moving

BETWEEN = 3  # elements of one part stand so far apart


def figure_of(told: Told, part: int, name: str) -> Figure:
    """The symbol of a part. `name`: as it is called where it stands."""
    figure = _figure(told, part, name)
    more = [
        replace(mouth, volume=volume)
        for mouth in figure.mouths
        if mouth.port is not None
        for volume in told.also.get(mouth.port, ())
    ]
    return replace(figure, mouths=figure.mouths + tuple(more)) if more else figure


def _figure(told: Told, part: int, name: str) -> Figure:
    special = (
        passage_figure(told, part, name)
        or logic_figure(told, part, name)
        or piloted_non_return_figure(told, part, name)
        or reader_figure(told, part, name)
    )
    if special is not None:
        return special
    elements = moving(told.circuit, part)
    if not elements:
        return plain_figure(told, part, name)
    figure = element_figure(told, part, elements[0], True, name, 0)
    for element in elements[1:]:
        said = told.circuit.elements[element].label
        other = element_figure(told, part, element, False, said, figure.width + BETWEEN)
        figure = Figure(
            other.width,
            max(figure.height, other.height),
            figure.solid + other.solid,
            figure.shapes + other.shapes,
            figure.texts + other.texts,
            figure.moving + other.moving,
            figure.mouths + other.mouths,
        )
    return figure
