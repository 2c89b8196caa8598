"""The one door to the layout library: which layer a part stands in, and where in it.

Parts are boxes, air is edges; the library removes circles, layers the boxes along the air and
orders each layer for few crossings. The same graph gives the same layers every time.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct


class Seat(Struct, frozen=True):
    """layer: 0 is nearest to the supplies.   order: the place from left to right in the layer."""

    layer: int
    order: int


def layers(
    sizes: tuple[tuple[int, int], ...], edges: tuple[tuple[int, int, int], ...]
) -> tuple[Seat, ...]:
    """Seats for boxes of these widths and heights, joined by edges (from, to, weight)."""
    import graphlay

    if not sizes:
        return ()
    request: dict[str, Any] = {
        "nodes": [
            {"key": str(k), "size": {"width": width, "height": height}, "shape": "box"}
            for k, (width, height) in enumerate(sizes)
        ],
        "edges": [
            {"source": start, "target": end, "weight": float(weight)}
            for start, end, weight in edges
        ],
    }
    # It places boxes that have no edge apart from the layers: they get the first layer here.
    drawing = graphlay.layout(request, options={"direction": "topbottom"})
    return tuple(Seat(node["rank"] or 0, node["order"] or 0) for node in drawing.nodes)
