"""What is told of the faults that a property tolerates (F4)."""

from __future__ import annotations

from verifier.model.circuit import Circuit, Property
from verifier.model.tolerant import considered, left_out
from verifier.report.result import LeftOut, Tolerated


def tolerated(circuit: Circuit, item: Property) -> Tolerated | None:
    """None for a property of the sound circuit."""
    if item.tolerating is None:
        return None
    return Tolerated(
        words=item.tolerating.words,
        most=item.tolerating.most,
        faults=tuple(one.name for one in considered(circuit, item)),
        left_out=tuple(
            LeftOut(one.faults, one.reason, one.source) for one in left_out(circuit, item)
        ),
    )
