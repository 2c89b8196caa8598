"""What the comparison of both translations of a circuit means for its verdicts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import structs

from verifier.evidence.translations import Comparison, Uncompared
from verifier.report.result import InstanceResult, PropertyResult, Translations, worst


def translations(comparisons: Iterable[Comparison]) -> Translations:
    """Of the circuit, and of those with faults that properties were judged of."""
    all_of_them = tuple(comparisons)
    unsure = (one.what for found in all_of_them for one in found.open)
    return Translations(sum(one.compared for one in all_of_them), tuple(dict.fromkeys(unsure)))


def doubted(number: int, item: PropertyResult, unsure: Sequence[Uncompared]) -> PropertyResult:
    """The result of property `number`, inconclusive where it rests on a proof and it is open
    whether both translations agree on what the proof speaks of."""
    about = [one.what for one in unsure if one.property in (None, number)]
    if not about or all(_shown_by_a_run(item, one) for one in item.instances):
        return item
    words = f"It is open whether both translations of the circuit agree on {about[0]}"
    others = f" and {len(about) - 1} more things" if len(about) > 1 else ""
    instances = tuple(
        one
        if _shown_by_a_run(item, one)
        else structs.replace(one, verdict="inconclusive", reason=f"{words}{others}.")
        for one in item.instances
    )
    return structs.replace(
        item, verdict=worst(one.verdict for one in instances), instances=instances
    )


def _shown_by_a_run(item: PropertyResult, instance: InstanceResult) -> bool:
    """The simulator has replayed what shows it, or it was inconclusive already."""
    if instance.verdict in ("holds", "violated"):
        return (instance.verdict == "holds") == (item.form == "possible")
    return instance.verdict != "vacuous"
