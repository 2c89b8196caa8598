"""One thing that differs between two circuits, in trade words."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

What = Literal[
    "part added",
    "part removed",
    "part renamed",
    "part swapped",
    "part altered",
    "kind altered",
    "port re-routed",
    "line added",
    "line removed",
    "line renamed",
    "supply",
    "surroundings",
    "start",
    "path",
]


class Difference(Struct, frozen=True):
    """One thing that is not as it was.

    words: what, for people.   parts: names of parts that it touches, in the new design (in the old
    one if it is gone).   ports, supplies, places (of liquid or vapour): the same of these.
    others: what a renamed part could as well be.   name_only: nothing behaves differently for it.
    """

    what: What
    words: str
    parts: tuple[str, ...] = ()
    ports: tuple[str, ...] = ()
    supplies: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    name_only: bool = False


def listed(names: tuple[str, ...]) -> str:
    return ", ".join(f"`{name}`" for name in names)
