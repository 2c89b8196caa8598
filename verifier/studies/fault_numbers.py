"""Numbers for the cut sets of a design, from the rates that it gives."""

from __future__ import annotations

from collections import Counter

from msgspec import structs

from verifier.model.circuit import Circuit, Rate
from verifier.model.strikes import Strike, excluded, strikes
from verifier.report.faults import DesignFaults, PropertyFaults
from verifier.risk.machinery import mttfd_of_cycles, rate_of, replaced_after
from verifier.risk.numbers import Frequency, Numbers, Period, numbers

SHARED = "A rate that is given for a thing counts in full for each of its faults."


def numbered(design: DesignFaults, circuit: Circuit, period: Period) -> DesignFaults:
    """With numbers for each property whose faults were asked for. Where it was asked which faults
    show, inspections find those that do and no others."""
    every = strikes(circuit)
    found = {one.name for one in every}
    if design.sleepers is not None:
        found = {one.name for one in design.sleepers.seen}
    rates = {one.name: frequency(one.rate, inspected=one.name in found) for one in every}
    left_out = len(excluded(circuit))
    shared = (SHARED,) if _shared(circuit) else ()

    def of(item: PropertyFaults) -> PropertyFaults:
        if item.why_not:
            return item
        sets = [one.faults for one in item.cut_sets]
        figures = numbers(sets, rates, item.complete_to, period, left_out)
        return structs.replace(item, numbers=_cautioned(figures, shared))

    return structs.replace(design, properties=tuple(map(of, design.properties)))


def frequency(rate: Rate | None, *, inspected: bool = True) -> Frequency | None:
    """B10d as ISO 13849-1 has it: a constant rate until T10d."""
    if rate is None:
        return None
    if rate.per_hour is not None:
        return Frequency(rate.per_hour, inspected=inspected)
    assert rate.b10d is not None
    assert rate.cycles_per_year is not None
    mttfd = mttfd_of_cycles(rate.b10d, rate.cycles_per_year)
    until = replaced_after(rate.b10d, rate.cycles_per_year)
    return Frequency(rate_of(mttfd), until, inspected)


def _cautioned(found: Numbers, more: tuple[str, ...]) -> Numbers:
    if found.missing:
        return found
    return structs.replace(found, cautions=(*found.cautions, *more))


def _shared(circuit: Circuit) -> bool:
    """Some statement gives one rate to several faults of one thing."""
    known = {one.name: one for one in strikes(circuit)}
    for one in circuit.rates:
        things = Counter(_thing(known[name]) for name in one.faults if name in known)
        if any(count > 1 for count in things.values()):
            return True
    return False


def _thing(strike: Strike) -> str:
    """What the fault is one of: `foot[1]`, `tube air at master.1`."""
    return strike.name.removesuffix(f" {strike.label}")
