"""Faults that make no difference to anything, whatever stands where: with proof by all cases."""

from __future__ import annotations

from collections.abc import Iterable

from verifier.calm.lanes import Lane, Layout, ways_of
from verifier.calm.spread import Spread
from verifier.calm.trailer import Trailer
from verifier.model.circuit import FaultEffect
from verifier.model.strikes import SupplyEffect, TubeEffect

MOST_CASES = 1 << 19


def only_loosens(trailer: Trailer, fault: str) -> bool:
    """Whether it only lets elements move unbidden: then it need not do anything."""
    (strike,) = (one for one in trailer.strikes if one.name == fault)
    return all(isinstance(one, FaultEffect) and one.effect == "shifts" for one in strike.effects)


def indifferent(trailer: Trailer, faults: Iterable[str]) -> tuple[str, ...]:
    """Those of the faults that are of the air alone, and with which all that anybody reads or hears
    is fed and vented as without, wherever elements and supplies stand.

    Where something could be cut off, nothing is said. None if there are too many cases.
    """
    circuit, own = trailer.circuit, trailer.own
    moved = {w.element for p in circuit.passages for w in p.where if w.element < own}
    first = own + len(circuit.hands)
    moved |= {first + one.switch for one in circuit.supplies}
    counts = [len(e.positions) for e in circuit.elements[:own]]
    counts += [2] * len(circuit.hands) + [len(s.values) for s in circuit.switches]
    box = tuple((1 << n) - 1 if t in moved else 1 for t, n in enumerate(counts))
    if ways_of(box) > MOST_CASES:
        return ()
    read = sorted(
        {volume for readings in trailer.readings for _, volume in readings}
        | {v for v, one in enumerate(circuit.volumes) if one.open_air and not one.supplies}
        - {trailer.chance}
    )
    reference = _driven(trailer, Lane(()), box, read)
    if reference is None:
        return ()
    return tuple(
        fault
        for fault in faults
        if _of_air(trailer, fault) and _driven(trailer, Lane((fault,)), box, read) == reference
    )


def _of_air(trailer: Trailer, fault: str) -> bool:
    (strike,) = (one for one in trailer.strikes if one.name == fault)
    for one in strike.effects:
        if isinstance(one, FaultEffect):
            if one.element is not None or one.hand is not None or one.medium is not None:
                return False
        elif not isinstance(one, TubeEffect | SupplyEffect):
            return False
    return True


def _driven(
    trailer: Trailer, lane: Lane, box: tuple[int, ...], read: list[int]
) -> tuple[tuple[int, int], ...] | None:
    """Of each volume that is read, where it is fed and where vented; None if one is cut off."""
    layout = Layout({0: box})
    air = Spread(trailer, [lane]).pressure(layout, {0: 0})
    if any(air.trapped[volume] for volume in read):
        return None
    return tuple((air.high[volume], air.low[volume]) for volume in read)
