"""Keeps the runs behind stories, for those who want to show them and not only tell them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from msgspec import Struct, field

from verifier.model.circuit import Circuit
from verifier.model.run import Parting, Run
from verifier.report.result import Race, Story


class Told(Struct, frozen=True):
    """A run of the circuit, which may have faults woven in, that the simulator agreed to.

    loop_from: number of the state to which it comes back at its end, if it goes round.
    """

    circuit: Circuit
    run: Run
    loop_from: int | None = None


class Kept(Struct):
    """What was told, by what was told of it. Of what is told alike, the first.

    cut_sets: runs by the number of the property and the numbers of the strikes, in order; each is
    one of the circuit with these faults alone, and was replayed.
    """

    stories: dict[Story, Told] = field(default_factory=dict)
    races: dict[Race, tuple[Circuit, Parting]] = field(default_factory=dict)
    cut_sets: dict[tuple[int, tuple[int, ...]], Run] = field(default_factory=dict)

    def story(self, story: Story, told: Told) -> None:
        self.stories.setdefault(story, told)

    def race(self, race: Race, circuit: Circuit, parting: Parting) -> None:
        self.races.setdefault(race, (circuit, parting))

    def cut_set(self, property: int, faults: tuple[int, ...], run: Run) -> None:
        self.cut_sets.setdefault((property, faults), run)


_keepers: list[Kept] = []


def keepers() -> tuple[Kept, ...]:
    """Those who want to keep what is told now."""
    return tuple(_keepers)


@contextmanager
def kept() -> Iterator[Kept]:
    """Everything told in the block, in this process."""
    mine = Kept()
    _keepers.append(mine)
    try:
        yield mine
    finally:
        _keepers.remove(mine)
