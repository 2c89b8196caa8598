"""The faults that may strike a circuit: those of its kinds, and those that every tube has (F3)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit, Fault, FaultEffect, Tube

TubeFault = Literal["blocked", "kinked", "torn", "leaking", "burst"]

TUBE_FAULTS: dict[TubeFault, str] = {
    "blocked": "it is blocked",
    "kinked": "it is kinked, and little air passes",
    "torn": "it is torn off",
    "leaking": "it leaks",
    "burst": "it bursts",
}
_TUBE_SOURCE = "ISO 13849-2:2012 Table B.7, from memory"


class TubeEffect(Struct, frozen=True):
    """blocked: no air passes.   kinked: it passes at restricted bore.   torn: both of what it
    joined are open to the air at full bore, and it joins nothing.   leaking, burst: it still joins,
    and is open to the air at restricted or at full bore.
    """

    tube: int
    fault: TubeFault


class Strike(Struct, frozen=True):
    """What may happen at any moment, once (F1, F2): a fault, or several of one cause.

    name: `PART LABEL` or `tube LINE: END to END LABEL`.   words: what it is, for people.
    passing: while it lasts it comes and goes; but it has struck from then on.
    part: of the circuit, or None for a tube's.   kind, label: what it is a fault of, and its name
    there.
    """

    name: str
    words: str
    effects: tuple[FaultEffect | TubeEffect, ...]
    passing: bool
    source: str
    span: Span
    part: int | None
    kind: str
    label: str


def strikes(circuit: Circuit) -> tuple[Strike, ...]:
    """All that the circuit's kinds and tubes have, parts first, each in the circuit's order."""
    parts = (_of_part(circuit, fault) for fault in circuit.faults)
    tubes = (one for k, tube in enumerate(circuit.tubes) for one in _of_tube(k, tube))
    return (*parts, *tubes)


def _of_part(circuit: Circuit, fault: Fault) -> Strike:
    part = circuit.parts[fault.part]
    return Strike(
        name=f"{part.name} {fault.label}",
        words=fault.doc or fault.label,
        effects=fault.effects,
        passing=fault.passing,
        source=fault.source,
        span=fault.span,
        part=fault.part,
        kind=part.kind,
        label=fault.label,
    )


def _of_tube(index: int, tube: Tube) -> Iterator[Strike]:
    for fault, words in TUBE_FAULTS.items():
        yield Strike(
            name=f"tube {tube.name} {fault}",
            words=words,
            effects=(TubeEffect(index, fault),),
            passing=False,
            source=_TUBE_SOURCE,
            span=tube.span,
            part=None,
            kind="tube",
            label=fault,
        )


def joined(name: str, words: str, members: tuple[Strike, ...], span: Span, source: str) -> Strike:
    """Several faults of one cause, which strike together; they come and go if all of them do."""
    return Strike(
        name=name,
        words=words,
        effects=tuple(effect for one in members for effect in one.effects),
        passing=all(one.passing for one in members),
        source=source,
        span=span,
        part=None,
        kind="common cause",
        label=name,
    )
