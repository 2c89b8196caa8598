"""What is said of faults, in words."""

from __future__ import annotations

from verifier.report.result import Modelling
from verifier.studies.fault_search import Standing
from verifier.studies.modelling import BORES, CHANGE, INERTIA, NO_CLOCK, THREE_PRESSURES

ANY_MOMENT = Modelling(
    "faults at any moment",
    "each fault considered may strike at any moment or never; once it has, it stays, unless it is "
    "told that it comes and goes; everything else works, and is piped as the design says",
)


def modelling() -> tuple[Modelling, ...]:
    """What all answers about faults rest on."""
    return (ANY_MOMENT, THREE_PRESSURES, BORES, CHANGE, INERTIA, NO_CLOCK)


def statement(standing: Standing, considered: int) -> str:
    """What is proved of single faults; "" if nothing is."""
    if () in standing.shown:
        return "It is broken although nothing fails."
    if standing.tolerated < 1:
        singles = sum(len(one) == 1 for one in standing.shown)
        if standing.complete_to >= 1:
            return f"{singles} of the {considered} single faults considered defeat this."
        return ""
    if standing.tolerated == 1:
        return f"No single one of the {considered} faults considered defeats this."
    return f"No {standing.tolerated} of the {considered} faults considered defeat this together."
