"""From a circuit to its drawing."""

from __future__ import annotations

from collections.abc import Mapping

from verifier.drawing.families import families_of
from verifier.drawing.figures import figure_of
from verifier.drawing.layout import Layout
from verifier.drawing.names import part_name
from verifier.drawing.paper import SMALLEST, fit
from verifier.drawing.placing import place
from verifier.drawing.sheet import sheet_of
from verifier.drawing.simple import supply_figure
from verifier.drawing.splitting import split
from verifier.drawing.told import tell
from verifier.model.circuit import Circuit


def lay_out(circuit: Circuit, also: Mapping[int, tuple[int, ...]] | None = None) -> Layout:
    """The drawing of a circuit, the same every time.

    It is one sheet, if all can be read on A3; else several, with links where lines go on.
    also: of a port the lines that it is joined to besides its own, where two circuits are drawn as
    one.
    """
    told = tell(circuit, also)
    figures = tuple(
        figure_of(told, part, part_name(told, part, None)) for part in range(len(circuit.parts))
    )
    supplies = tuple(supply_figure(supply, supply.name) for supply in circuit.supplies)
    placement = place(told, families_of(told), figures, supplies)
    sheets = [sheet_of(told, placement, 1, {})]
    paper, scale = fit([(sheet.width, sheet.height) for sheet in sheets])
    if scale < SMALLEST:
        sheets = split(told, placement)
        paper, scale = fit([(sheet.width, sheet.height) for sheet in sheets])
    return Layout(circuit.name, circuit.title, circuit.revision, paper, scale, tuple(sheets))
