"""What the verdicts take for granted, in one table: assumptions, exclusions, accepted races."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.report.families import families
from verifier.report.faults import DesignFaults
from verifier.report.result import DesignResult, PropertyResult


class Entry(Struct, frozen=True):
    """used: the properties whose verdicts rest on it, "" for none of them."""

    what: str
    name: str
    why: str
    source: str
    used: str


def ledger(
    circuit: Circuit, design: DesignResult, faults: DesignFaults | None
) -> tuple[Entry, ...]:
    """Everything that the design says, in its order, then what the rules take for granted."""
    return (
        *_assumptions(circuit, design, faults),
        *_exclusions(circuit, design, faults),
        *_races(circuit, design),
        *_modelling(design),
    )


def _assumptions(
    circuit: Circuit, design: DesignResult, faults: DesignFaults | None
) -> Iterator[Entry]:
    for one in circuit.assumptions:
        users = [
            _name(item)
            for item in design.properties
            if any(used.name == one.name for used in item.assumptions)
        ]
        if faults is not None:
            users += [
                f'faults of "{item.name}"'
                for item in faults.properties
                if any(used.name == one.name for used in item.assumptions)
            ]
        yield Entry("Assumption", one.name, one.reason, "", _listed(users, design))


def _exclusions(
    circuit: Circuit, design: DesignResult, faults: DesignFaults | None
) -> Iterator[Entry]:
    for one in circuit.exclusions:
        users = [
            _name(item)
            for item in design.properties
            if item.tolerating is not None
            and any(out.reason == one.reason for out in item.tolerating.left_out)
        ]
        if faults is not None:
            users.append("all cut sets")
        names = ", ".join(families(one.faults))
        told = one.words if one.words == names else f"{one.words}: {names}"
        yield Entry("Fault excluded", told, one.reason, one.source, _listed(users, design))


def _races(circuit: Circuit, design: DesignResult) -> Iterator[Entry]:
    for one in circuit.accepted:
        users = [
            _name(item)
            for item in design.properties
            if item.form == "no race" and one.words not in item.unmet
        ]
        yield Entry("Race accepted", one.words, one.reason, "", _listed(users, design))


def _modelling(design: DesignResult) -> Iterator[Entry]:
    for one in design.modelling:
        users = [_name(item) for item in design.properties if one.name in item.modelling]
        yield Entry("Rule of the model", one.name, one.says, "", _listed(users, design))


def _name(item: PropertyResult) -> str:
    return item.name if item.free else f'"{item.name}"'


def _listed(users: Iterable[str], design: DesignResult) -> str:
    names = list(dict.fromkeys(users))
    if len(names) > 1 and len(names) == len(design.properties):
        return "every verdict"
    return ", ".join(names)
