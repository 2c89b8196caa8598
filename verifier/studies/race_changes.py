"""Which races a change brings and which it takes away, by elements of the new design."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.changes.counterparts import Counterparts
from verifier.model.circuit import Circuit
from verifier.report.comparison import RacesTold
from verifier.report.result import InstanceResult, PropertyResult
from verifier.studies import races
from verifier.studies.names import element_name


def race_changes(
    between: Counterparts, before: Sequence[PropertyResult], after: Sequence[PropertyResult]
) -> RacesTold | None:
    """None where either design was not asked, or nothing is known of it."""
    was, now = _asked(before), _asked(after)
    if was is None or now is None:
        return None
    then = {_there(between, case.label): case for case in _told(was)}
    today = {case.label: case for case in _told(now)}
    return RacesTold(
        gained=tuple(name for name in today if name not in then),
        lost=tuple(name for name in then if name not in today),
        unaccepted=tuple(
            name
            for name, case in today.items()
            if not case.accepted and (name not in then or then[name].accepted)
        ),
        known_before=_all_known(was),
        known_after=_all_known(now),
    )


def _asked(properties: Sequence[PropertyResult]) -> PropertyResult | None:
    found = (item for item in properties if item.free and item.name == races.NAME)
    item = next(found, None)
    return None if item is None or item.verdict == "inconclusive" else item


def _told(item: PropertyResult) -> list[InstanceResult]:
    return [case for case in item.instances if case.verdict == "delay dependent"]


def _all_known(item: PropertyResult) -> bool:
    """Whether it is proved that there are no races but those that are told."""
    return item.verdict == "holds" or item.others == "none"


def _there(between: Counterparts, name: str) -> str:
    """What the old design's element is called in the new one; its old name if it is not there."""
    for a, b in between.elements.items():
        if element_name(between.old, a) == name:
            return element_name(between.new, b)
    return _own(between.old, name)


def _own(circuit: Circuit, name: str) -> str:
    known = {element_name(circuit, e) for e in range(len(circuit.elements))}
    return f"{name} (of the old design)" if name in known else name
