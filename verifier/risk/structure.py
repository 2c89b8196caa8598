"""What cut sets say of the structure of a safety function, in the sense of ISO 13849-1."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

Single = Literal["no fault needed", "one is enough", "none is enough", "not decided"]


class Structure(Struct, frozen=True):
    """least: size of the smallest known cut set, None when none is known.   complete_to: up to this
    size all are known, None for every size.   single: whether one considered fault defeats the
    function.   statement: the same for people.
    """

    least: int | None
    complete_to: int | None
    considered: int
    excluded: int
    single: Single
    statement: str


def structure(
    sizes: Iterable[int], complete_to: int | None, considered: int, excluded: int
) -> Structure:
    """From the sizes of the minimal cut sets that are known, all of them up to `complete_to` faults
    (-1: not even those of no fault), and how many faults are considered and left out."""
    least = min(sizes, default=None)
    single = _single(least, complete_to)
    told = _STATEMENTS[single].format(considered=considered)
    if excluded and single != "no fault needed":
        told += f" {excluded} more are excluded, for the reasons told."
    return Structure(least, complete_to, considered, excluded, single, told)


def _single(least: int | None, complete_to: int | None) -> Single:
    if least == 0:
        return "no fault needed"
    if least == 1:
        return "one is enough"
    if complete_to is None or complete_to >= 1:
        return "none is enough"
    return "not decided"


_STATEMENTS: dict[Single, str] = {
    "no fault needed": "The function is defeated without any fault.",
    "one is enough": (
        "A single fault of {considered} considered defeats the function: by its structure it is"
        " of category B, 1 or 2 of ISO 13849-1, no higher."
    ),
    "none is enough": (
        "Proved: no single fault of {considered} considered defeats the function, which is what"
        " categories 3 and 4 of ISO 13849-1 ask of its structure. What else they ask (MTTFd,"
        " diagnostic coverage, common causes, accumulated faults) is not proved by this."
    ),
    "not decided": "Whether a single fault of {considered} considered defeats it is not decided.",
}
