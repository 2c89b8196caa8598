"""When a fault that is an element of a circuit acts."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from verifier.model.circuit import Where
from verifier.model.condition import At, Condition, Not


class Acting(Struct, frozen=True):
    """positions: of the element, in which this effect of the fault is there; others: all others.

    stays: once it is there it is there for good.
    """

    element: int
    positions: tuple[int, ...]
    others: tuple[int, ...]

    @property
    def stays(self) -> bool:
        return self.others == (0,)

    @property
    def acts(self) -> Where:
        return Where(self.element, self.positions)

    @property
    def condition(self) -> Condition:
        return At(self.element, self.positions)


def acting(element: int, passing: bool, lasting: bool) -> Acting:
    """passing: the fault comes and goes, and has a third position for when it has passed off;
    lasting: but this effect of it stays."""
    if not passing:
        return Acting(element, (1,), (0,))
    return Acting(element, (1, 2), (0,)) if lasting else Acting(element, (1,), (0, 2))


def unless(faults: Iterable[Acting]) -> tuple[Where, ...]:
    """None of them acts."""
    return tuple(Where(one.element, one.others) for one in faults)


def none_of(faults: Iterable[Acting]) -> list[Condition]:
    return [Not(one.condition) for one in faults]
