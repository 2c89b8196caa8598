"""The steps of an argument that a circuit comes to rest (turning.py), as questions."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.transition.turning import Settled, Thing, Turning


class Misfit(ValueError):
    """An argument that does not speak of all things that it must, or of strange ones."""


class StillStep(Struct, frozen=True):
    """No two moments that agree on the first `alike` things of the order make `literal` true."""

    literal: int
    alike: int
    sort: Literal["a reading is not steady", "something turns back", "something wavers"]
    words: str


def steps_of(turning: Turning, settled: Settled) -> tuple[StillStep, ...]:
    """All that must be refuted for the argument to stand. Raises Misfit when it is out of shape."""
    steps: list[StillStep] = []
    known: set[Thing] = set()
    things = set(turning.things)
    for place, still in enumerate(settled.order):
        thing = still.thing
        if thing in known or thing not in things:
            raise Misfit(f"{thing} is no thing to be shown still")
        if not set(still.steady) <= set(turning.read_by(thing)):
            raise Misfit(f"{thing} does not read what is said to be steady")
        known.add(thing)
        name = turning.name(thing)
        steps += (
            StillStep(
                turning.unsteady(volume),
                place + 1,
                "a reading is not steady",
                f"the reading of {turning.name(Thing('memory', volume))} by {name} is not steady",
            )
            for volume in still.steady
        )
        turns = turning.turns(thing, still.steady)
        steps.append(StillStep(turns, place, "something turns back", f"{name} turns back"))
    for thing in turning.things:
        if thing.kind == "element":
            if thing not in known:
                raise Misfit(f"nothing is said of element {thing.index}")
            wavers = turning.wavers(thing.index)
            name = turning.name(thing)
            steps.append(
                StillStep(wavers, len(settled.order), "something wavers", f"{name} wavers")
            )
    return tuple(steps)
