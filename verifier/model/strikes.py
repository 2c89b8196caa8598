"""The faults that may strike a circuit: of kinds, tubes and supplies, and common causes (F3)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from msgspec import Struct, structs

from verifier.diagnostics.span import Span
from verifier.model.circuit import (
    Cause,
    Circuit,
    Exclusion,
    Fault,
    FaultEffect,
    Rate,
    Supply,
    Tube,
)
from verifier.model.condition import Setting
from verifier.model.simplify import atoms

TubeFault = Literal["blocked", "kinked", "torn", "leaking", "burst"]
SupplyFault = Literal["lost", "weak", "restored"]

TUBE_FAULTS: dict[TubeFault, str] = {
    "blocked": "it is blocked",
    "kinked": "it is kinked, and little air passes",
    "torn": "it is torn off",
    "leaking": "it leaks",
    "burst": "it bursts",
}
SUPPLY_FAULTS: dict[SupplyFault, str] = {
    "lost": "its air is lost, and may come back",
    "weak": "its air is weak",
    "restored": "it gives air when it should give none",
}
_TUBE_SOURCE = "ISO 13849-2:2012 Table B.7, from memory"
_SUPPLY_SOURCE = "ISO 4414:2010, loss of the supply, from memory"
JUNCTION = "junction"


class TubeEffect(Struct, frozen=True):
    """blocked: no air passes.   kinked: it passes at restricted bore.   torn: both of what it
    joined are open to the air at full bore, and it joins nothing.   leaking, burst: it still joins,
    and is open to the air at restricted or at full bore.

    off: the end (0, 1) that a torn tube has come off; it stays on the other, which is then open to
    the air through its whole length, at restricted bore. None: at full bore on both sides.
    """

    tube: int
    fault: TubeFault
    off: Literal[0, 1] | None = None


class SupplyEffect(Struct, frozen=True):
    """lost: as if absent.   weak: as if weak while it is present.   restored: as if present."""

    supply: int
    fault: SupplyFault


Effect = FaultEffect | TubeEffect | SupplyEffect


class Strike(Struct, frozen=True):
    """What may happen at any moment, once (F1, F2): a fault, or several of one cause.

    name: `PART LABEL`, `tube LINE at END LABEL`, `supply NAME LABEL` or `cause NAME`, as a design
    says it.   words: what it is, for people.   passing: while it lasts it comes and goes; but it
    has struck from then on.   lasting: numbers of effects that stay all the same.
    part: of the circuit, or None for what is no part's.   kind, label: what it is a fault of, and
    its name there.   rate: None where the design gives none.
    """

    name: str
    words: str
    effects: tuple[Effect, ...]
    passing: bool
    source: str
    span: Span
    part: int | None
    kind: str
    label: str
    rate: Rate | None = None
    lasting: tuple[int, ...] = ()


def strikes(circuit: Circuit) -> tuple[Strike, ...]:
    """All that are considered: of parts first, then of tubes, of supplies, common causes, each in
    the circuit's order; without those that the design excludes."""
    left_out = {name for one in circuit.exclusions for name in one.faults}
    return tuple(one for one in every_strike(circuit) if one.name not in left_out)


def excluded(circuit: Circuit) -> tuple[tuple[Strike, Exclusion], ...]:
    """Those that are not considered, each with the exclusion that says why (F4)."""
    why = {name: one for one in circuit.exclusions for name in one.faults}
    return tuple((one, why[one.name]) for one in every_strike(circuit) if one.name in why)


def every_strike(circuit: Circuit) -> tuple[Strike, ...]:
    """Those that are excluded too."""
    rates = {name: one.rate for one in circuit.rates for name in one.faults}
    single = single_strikes(circuit)
    named = {one.name: one for one in single}
    causes = (of_cause(one, named) for one in circuit.causes)
    return tuple(
        structs.replace(one, rate=rates[one.name]) if one.name in rates else one
        for one in (*single, *causes)
    )


def single_strikes(circuit: Circuit) -> tuple[Strike, ...]:
    """Of parts, tubes and supplies: no common causes, and without rates."""
    dead_ends = _dead_ends(circuit)
    parts = (_of_part(circuit, fault) for fault in circuit.faults)
    tubes = (one for k, tube in enumerate(circuit.tubes) for one in _of_tube(k, tube, dead_ends))
    supplies = (
        one for k, supply in enumerate(circuit.supplies) for one in _of_supply(circuit, k, supply)
    )
    return (*parts, *tubes, *supplies)


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


def _of_tube(index: int, tube: Tube, dead_ends: frozenset[str]) -> Iterator[Strike]:
    for fault, words in TUBE_FAULTS.items():
        yield _tube_strike(tube, f"tube {tube.name} {fault}", words, TubeEffect(index, fault))
    ends: tuple[Literal[0, 1], ...] = (0, 1)
    for off in ends:
        # In what is joined to nothing else a small hole does what a large one does.
        if tube.ends[1 - off] not in dead_ends:
            end = tube.ends[off]
            name = f"tube {tube.name} torn at {end}"
            words = f"it comes off {'the ' if end == JUNCTION else ''}{end}"
            yield _tube_strike(tube, name, words, TubeEffect(index, "torn", off))


def _tube_strike(tube: Tube, name: str, words: str, effect: TubeEffect) -> Strike:
    return Strike(
        name=name,
        words=words,
        effects=(effect,),
        passing=False,
        source=_TUBE_SOURCE,
        span=tube.span,
        part=None,
        kind="tube",
        label=effect.fault,
    )


def _dead_ends(circuit: Circuit) -> frozenset[str]:
    """Ports that air goes no further from, whatever else fails."""
    through = {port for passage in circuit.passages for port in passage.ports}
    for fault in circuit.faults:
        through.update(port for one in fault.effects if len(one.ports) > 1 for port in one.ports)
    return frozenset(one.name for k, one in enumerate(circuit.ports) if k not in through)


def _of_supply(circuit: Circuit, index: int, supply: Supply) -> Iterator[Strike]:
    """What its own switch does not do already, at any time (O2)."""
    held = any(
        isinstance(atom, Setting) and atom.switch == supply.switch
        for one in circuit.assumptions
        for atom in atoms(one.condition)
    )
    may_be_weak = "weak" in circuit.switches[supply.switch].values
    for fault, words in SUPPLY_FAULTS.items():
        if held or (fault == "weak" and not may_be_weak):
            yield Strike(
                name=f"supply {supply.name} {fault}",
                words=words,
                effects=(SupplyEffect(index, fault),),
                passing=True,
                source=_SUPPLY_SOURCE,
                span=supply.span,
                part=None,
                kind="supply",
                label=fault,
            )


def of_cause(cause: Cause, named: dict[str, Strike]) -> Strike:
    members = tuple(named[name] for name in cause.faults)
    words = cause.doc or f"one cause of {len(members)} faults"
    return joined(f"cause {cause.name}", words, members, cause.span, cause.source)


def joined(name: str, words: str, members: Iterable[Strike], span: Span, source: str) -> Strike:
    """Several faults of one cause, which strike together. What comes and goes of one of them does;
    the others stay."""
    members = tuple(members)
    passing = any(one.passing for one in members)
    stay = [not one.passing for one in members for _ in one.effects]
    return Strike(
        name=name,
        words=words,
        effects=tuple(effect for one in members for effect in one.effects),
        passing=passing,
        source=source,
        span=span,
        part=None,
        kind="common cause",
        label=name,
        lasting=tuple(k for k, stays in enumerate(stay) if stays) if passing else (),
    )
