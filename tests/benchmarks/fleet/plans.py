"""What a generated trailer is like: its size, how it is built, and what was done wrong in it.

One in ten has a defect. The trailers and their names are invented.
"""

from __future__ import annotations

from random import Random
from typing import Literal

from msgspec import Struct, structs

Style = Literal["points", "own pipes"]
Stop = Literal["pressurising", "exhausting"]
Defect = Literal[
    "points abreast",
    "air from before the vents",
    "a vent left out of the series",
    "a master that stays out",
    "a stop that is not joined",
    "a selector without its home line",
]
DEFECTS: tuple[Defect, ...] = Defect.__args__  # type: ignore[attr-defined]

MOST = (8, 3)
SHARE = 10
"""One in so many has a defect."""

BIRDS = ("heron", "gull", "tern", "skua", "petrel", "eider", "plover", "curlew", "dunlin", "scoter")
FEET = ("foot", "bottom", "outlet")
VENTS = ("vent", "vapour", "breather")
SELECTORS = ("pick", "knob", "draw")
STOPS = ("stop", "station")


class Plan(Struct, frozen=True):
    """compartments, manifolds: own pipes have no manifolds, and count as one.   points: each
    manifold has a chain of selectors, one for each compartment.   own pipes: each compartment has a
    selector and a pipe of its own.   foot, vent, selector, stop: what the parts are called.
    """

    number: int
    compartments: int
    manifolds: int
    style: Style
    stop_sort: Stop
    stops: int
    lamp: bool
    filter: bool
    fuse: bool
    foot: str
    vent: str
    selector: str
    stop: str
    left_out: tuple[int, ...]
    defect: Defect | None

    @property
    def name(self) -> str:
        return f"{BIRDS[self.number % len(BIRDS)]}_{self.number:04}"


def drawn(seed: int, count: int) -> list[Plan]:
    """The same for the same seed, whatever the count."""
    return [_drawn(Random(f"{seed} {number}"), number) for number in range(1, count + 1)]


def _drawn(random: Random, number: int) -> Plan:
    style: Style = random.choice(("points", "own pipes"))
    compartments = random.randint(2, MOST[0])
    manifolds = random.randint(1, MOST[1]) if style == "points" else 1
    stop_sort: Stop = random.choice(("pressurising", "exhausting"))
    plan = Plan(
        number=number,
        compartments=compartments,
        manifolds=manifolds,
        style=style,
        stop_sort=stop_sort,
        stops=random.randint(1, 3) if stop_sort == "exhausting" else random.randint(1, 2),
        lamp=random.random() < 0.7,
        filter=random.random() < 0.5,
        fuse=stop_sort == "exhausting" and random.random() < 0.5,
        foot=random.choice(FEET),
        vent=random.choice(VENTS),
        selector=random.choice(SELECTORS),
        stop=random.choice(STOPS),
        left_out=tuple(sorted(random.sample(range(20), 3))),
        defect=None,
    )
    if number % SHARE:
        return plan
    return _spoilt(random, plan)


def _spoilt(random: Random, plan: Plan) -> Plan:
    """With a defect that the trailer can have."""
    possible = [one for one in DEFECTS if fits(plan, one)]
    return structs.replace(plan, defect=random.choice(possible))


def fits(plan: Plan, defect: Defect) -> bool:
    if defect == "points abreast":
        return plan.style == "points"
    if defect == "a master that stays out":
        return plan.stop_sort == "pressurising"
    return True
