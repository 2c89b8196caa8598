"""The modelling assumptions of grammar/REFERENCE.md: what the rules leave out of real trailers."""

from __future__ import annotations

from collections.abc import Iterable

from verifier.model.circuit import Circuit
from verifier.report.result import Form, Modelling, PropertyResult

HEALTHY = Modelling(
    "healthy parts",
    "no part fails, no tube bursts or is blocked, and everything is piped as the design says",
)
THREE_PRESSURES = Modelling(
    "air or no air",
    "a line has full pressure, none, or something in between that each pilot reads either way",
)
BORES = Modelling(
    "full bore wins",
    "what reaches a line at full bore outdoes what reaches it through a restriction",
)
CHANGE = Modelling(
    "change at once",
    "an element passes from one position to the next with nothing between them; a kind whose "
    "middle matters has a middle position",
)
INERTIA = Modelling(
    "no memory of a demand",
    "a demand that goes away before the element has moved leaves no trace",
)
NO_CLOCK = Modelling(
    "no clock",
    "everything may take any time; what a property says at rest counts when nothing must move",
)
STEADY = Modelling(
    "steady reading",
    "while nothing else changes, a pilot reads a lasting in-between pressure one way",
)

FAULTY = Modelling(
    "no other faults",
    "nothing fails but what a property tolerates, as often as it says; everything is piped as the "
    "design says",
)
RESTING = Modelling(
    "rest in spite of faults",
    "what a property says at rest counts when nothing must move; that rest is reached although a "
    "fault has struck is not asked",
)

EVERY: tuple[Modelling, ...] = (HEALTHY, THREE_PRESSURES, BORES, CHANGE, INERTIA, NO_CLOCK)

CAUTIONS: tuple[str, ...] = (
    "Caution: a proof holds for the design as written, under the rules and the assumptions named. "
    "It replaces no test of the built trailer. Local codes come first; leave work on tank vehicles "
    "to people trained and licensed for it.",
)


KNOWN: tuple[Modelling, ...] = (*EVERY, STEADY, FAULTY, RESTING)


def in_force(form: Form, *, tolerant: bool = False) -> tuple[Modelling, ...]:
    """Those on which the answer to a property of this form rests; tolerant: of faults."""
    if tolerant:
        return (*EVERY[1:], FAULTY, RESTING)
    return (*EVERY, STEADY) if form == "comes to rest" else EVERY


def all_in_force(items: Iterable[PropertyResult]) -> tuple[Modelling, ...]:
    """Those on which one of the answers rests."""
    named = {name for item in items for name in item.modelling}
    return tuple(one for one in KNOWN if one.name in named)


def notes(circuit: Circuit) -> tuple[str, ...]:
    """What must be known about the design as a whole."""
    if not circuit.runs_on:
        return ()
    return (f"comes to rest is not demanded: the design runs on, because {circuit.runs_on}",)
