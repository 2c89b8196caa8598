"""Where everything stands, in few lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from verifier.report.families import families
from verifier.report.story import Wrap


class Whole(Struct, frozen=True):
    """One moment. stands: names and where they stand, in the order of the design.   between: at an
    in-between pressure.   kept: cut off with air in them.   out: ports that air blows out of.
    flows: what can pass between which places.
    """

    stands: tuple[tuple[str, str], ...]
    air: tuple[str, ...]
    no_air: tuple[str, ...]
    between: tuple[str, ...]
    kept: tuple[str, ...]
    out: tuple[str, ...]
    flows: tuple[str, ...]
    at_rest: bool


def whole_lines(whole: Whole, wrap: Wrap, margin: str) -> Iterator[str]:
    """Parts of a family that stand alike are told together."""
    by_value: dict[str, list[str]] = {}
    for name, value in whole.stands:
        by_value.setdefault(value, []).append(name)
    for value, names in by_value.items():
        yield from wrap(f"{value}: {', '.join(families(names))}", margin, "  ")
    told: tuple[tuple[str, Iterable[str]], ...] = (
        ("air in", whole.air),
        ("no air in", whole.no_air),
        ("in-between pressure in", whole.between),
        ("cut off with air inside", whole.kept),
        ("air blows out of", whole.out),
    )
    for words, things in told:
        drawn = families(things)
        if drawn:
            yield from wrap(f"{words}: {', '.join(drawn)}", margin, "  ")
    for flow in whole.flows:
        yield from wrap(f"{flow}", margin, "  ")
    yield f"{margin}{'at rest' if whole.at_rest else 'something must still move'}"
