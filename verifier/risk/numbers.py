"""All numbers of one property: from its cut sets, the rates of faults, and how long they go on."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct, structs

from verifier.risk.chance import Chance, Importance, Weighed, bounds, more_than, weigh
from verifier.risk.diagram import MOST_NODES, TooLarge
from verifier.risk.families import CutSet, faults_of, minimal
from verifier.risk.lifetime import HOURS_A_YEAR, struck_within
from verifier.risk.machinery import Band, band_of, capped, mttfd_of
from verifier.risk.structure import Structure, structure


class Frequency(Struct, frozen=True):
    """How often a fault happens.   until: years after which the part is replaced, because its rate
    is constant no longer; None where nothing is said of it.   inspected: an inspection finds it."""

    per_hour: float
    until: float | None = None
    inspected: bool = True


class Period(Struct, frozen=True):
    """Hours that things are in use, and between inspections, at which all that is found is
    mended; None: nothing is found or mended before the end."""

    mission: float
    interval: float | None = None

    def hours(self, inspected: bool) -> float:
        """For how long a fault may have lain there when it counts most: just before the last
        inspection, or at the end."""
        if self.interval is None or not inspected:
            return self.mission
        return min(self.interval, self.mission)


class Channel(Struct, frozen=True):
    """Of the faults that are enough alone, together.   mttfd: in years, of which no more than 100
    count; band: as ISO 13849-1 calls it."""

    per_hour: float
    mttfd: float
    counted: float
    band: Band


class Numbers(Struct, frozen=True):
    """Of one property, over a mission and with an interval of so many hours.

    structure: what holds without any rate.   missing: faults in cut sets without a rate; then there
    are no numbers.   chance: that at the end of the mission, just before the inspection that is
    due, some cut set has struck whole.   beyond: probability that more faults have struck than cut
    sets were looked for, so that what was not looked for adds at most this; 0 when sets of every
    size were; None when a rate is missing among all faults.   in_mission: upper bound of the
    probability that it ever happens in the mission.   channel: None where no fault is enough alone.
    cautions: for people.
    """

    mission: float
    interval: float | None
    structure: Structure
    missing: tuple[str, ...] = ()
    chance: Chance | None = None
    beyond: float | None = None
    in_mission: float | None = None
    importances: tuple[Importance, ...] = ()
    channel: Channel | None = None
    cautions: tuple[str, ...] = ()


def numbers(
    sets: Iterable[Iterable[str]],
    rates: Mapping[str, Frequency | None],
    complete_to: int | None,
    period: Period,
    excluded: int = 0,
    most: int = MOST_NODES,
) -> Numbers:
    """rates: of every fault that was considered; so many more were excluded.   complete_to: all cut
    sets of up to so many faults are among `sets`; None: of any number."""
    family = minimal(sets)
    plain = Numbers(
        period.mission,
        period.interval,
        structure(map(len, family), complete_to, len(rates), excluded),
    )
    missing = tuple(fault for fault in faults_of(family) if rates[fault] is None)
    if missing:
        return structs.replace(plain, missing=missing)
    known = {fault: one for fault, one in rates.items() if one is not None}
    of = {fault: _probability(one, period) for fault, one in known.items()}
    cautions = _cautions(family, known, complete_to, period)
    told = structs.replace(plain, channel=_channel(family, known), cautions=cautions)
    try:
        weighed = weigh(family, of, most)
    except TooLarge:
        large = f"The decision diagram would have more than {most} nodes: only bounds are told."
        weighed = Weighed(bounds(family, of), ())
        told = structs.replace(told, cautions=(large, *cautions))
    chance = weighed.chance
    beyond = _beyond(complete_to, rates, of)
    ever = None
    if beyond is not None:
        at_end = chance.bound if chance.exact is None else chance.exact
        ever = _in_mission(at_end + beyond, period, known)
    return structs.replace(
        told, chance=chance, beyond=beyond, in_mission=ever, importances=weighed.importances
    )


def _probability(one: Frequency, period: Period) -> Fraction:
    return struck_within(one.per_hour, period.hours(one.inspected))


def _beyond(
    complete_to: int | None, rates: Mapping[str, Frequency | None], of: Mapping[str, Fraction]
) -> float | None:
    if complete_to is None:
        return 0.0
    if complete_to < 0:
        return 1.0
    if any(one is None for one in rates.values()):
        return None
    return more_than(complete_to, list(of.values())).nearest()


def _in_mission(at_end: float, period: Period, known: Mapping[str, Frequency]) -> float:
    """What happens within an interval is still there at its end, and no interval is worse than the
    last. Where inspections find everything, intervals have nothing to do with each other."""
    if period.interval is None:
        return min(1.0, at_end)
    intervals = max(1, -(-Fraction(period.mission) // Fraction(period.interval)))
    if at_end < 1 and all(one.inspected for one in known.values()):
        return -math.expm1(intervals * math.log1p(-at_end))
    return min(1.0, intervals * at_end)


def _channel(family: Sequence[CutSet], known: Mapping[str, Frequency]) -> Channel | None:
    rate = sum(known[fault].per_hour for one in family if len(one) == 1 for fault in one)
    if not rate:
        return None
    mttfd = mttfd_of(rate)
    return Channel(rate, mttfd, capped(mttfd), band_of(mttfd))


def _cautions(
    family: Sequence[CutSet],
    known: Mapping[str, Frequency],
    complete_to: int | None,
    period: Period,
) -> tuple[str, ...]:
    cautions = [_INDICATIVE, _WORST]
    if period.interval is None:
        cautions.append("Nothing is taken to be found or mended before the end of the mission.")
    else:
        cautions.append("Each inspection is taken to find and mend whatever it can find.")
    if complete_to is not None:
        cautions.append(
            f"Cut sets of more than {complete_to} faults were not looked for."
            if complete_to >= 0
            else "Not even all cut sets of no fault are known."
        )
    mission = period.mission / HOURS_A_YEAR
    worn = [fault for fault in faults_of(family) if (known[fault].until or mission) < mission]
    if worn:
        soonest = min(worn, key=lambda fault: (known[fault].until or mission, fault))
        cautions.append(
            f"{len(worn)} of the faults are of parts that wear out (T10d) before the mission ends,"
            f" first after {known[soonest].until:.3g} years `{soonest}`: replaced by then, or the"
            " rates are too low."
        )
    return tuple(cautions)


_INDICATIVE = (
    "Indicative: rates are averages over many parts in other places, taken to be constant, and"
    " faults to be independent but for the common causes that are told."
)
_WORST = (
    "A cut set counts from the moment its last fault strikes, as if hands then did the worst at"
    " once; so the probabilities err on the high side."
)
