"""Numbers of a property's cut sets for people."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from verifier.risk.chance import Chance
from verifier.risk.lifetime import HOURS_A_YEAR
from verifier.risk.numbers import Numbers

Wrapped = Callable[[str, str, str], list[str]]

MOST = 5
"""So many faults are told by importance; JSON has all."""


def number_lines(numbers: Numbers, wrapped: Wrapped) -> Iterator[str]:
    """Below the cut sets of a property."""
    yield from wrapped(numbers.structure.statement, " " * 6, "  ")
    if numbers.missing:
        listed = ", ".join(f"`{name}`" for name in numbers.missing)
        yield from wrapped(f"no numbers, as no rate is given for: {listed}", " " * 6, "  ")
        return
    yield from wrapped(f"{_period(numbers)}:", " " * 6, "  ")
    for line in _told(numbers):
        yield from wrapped(line, " " * 8, "  ")


def caution_lines(every: Iterable[Numbers], wrapped: Wrapped) -> Iterator[str]:
    """Each once, below all properties."""
    told = dict.fromkeys(caution for numbers in every for caution in numbers.cautions)
    for caution in told:
        yield from wrapped(f"caution: {caution}", "", "  ")


def _told(numbers: Numbers) -> Iterator[str]:
    if numbers.chance is not None:
        yield _chance(numbers.chance)
        if numbers.beyond is None:
            yield "what larger sets add is not bounded: some faults have no rate"
        elif numbers.beyond:
            yield f"larger sets add at most {short(numbers.beyond)}"
        if numbers.in_mission is not None:
            yield f"that it ever happens: at most {short(numbers.in_mission)}"
    for one in numbers.importances[:MOST]:
        shares = ""
        if one.criticality is not None and one.fussell_vesely is not None:
            shares = f", criticality {one.criticality:.1%}, Fussell-Vesely {one.fussell_vesely:.1%}"
        yield (
            f"{one.fault}: probability {short(one.probability)},"
            f" Birnbaum {short(one.birnbaum)}{shares}"
        )
    rest = len(numbers.importances) - MOST
    if rest > 0:
        yield f"and {rest} faults of less importance"
    if numbers.channel is not None:
        channel = numbers.channel
        yield (
            f"those that are enough alone: {short(channel.per_hour)} an hour, MTTFd"
            f" {channel.mttfd:.3g} years ({channel.band}{_cap(channel.mttfd, channel.counted)})"
        )


def _chance(chance: Chance) -> str:
    what = "probability that a cut set has struck by the end"
    beside = f"min-cut bound {short(chance.bound)}, rare-event sum {short(chance.rare)}"
    if chance.exact is None:
        return f"{what}: not computed; {beside}"
    return f"{what}: {short(chance.exact)} (exact; {beside})"


def _cap(mttfd: float, counted: float) -> str:
    return f"; {counted:g} count" if counted < mttfd else ""


def _period(numbers: Numbers) -> str:
    mission = f"over {_years(numbers.mission)}"
    if numbers.interval is None:
        return mission
    return f"{mission}, inspected every {_years(numbers.interval)}"


def _years(hours: float) -> str:
    if hours < HOURS_A_YEAR:
        return f"{hours:g} hours"
    years = hours / HOURS_A_YEAR
    return "year" if years == 1 else f"{years:.4g} years"


def short(number: float) -> str:
    """Four digits."""
    return f"{number:.4g}"
