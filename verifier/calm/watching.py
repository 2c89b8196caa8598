"""Which trailers can have shown what was seen: all others cannot, whatever moved first."""

from __future__ import annotations

import copy
from collections.abc import Iterable, Sequence

from verifier.calm.fleet import Fleet, Look
from verifier.calm.lanes import Lane
from verifier.calm.script import Happening, Put
from verifier.calm.showing import ways
from verifier.calm.trailer import Trailer


def usual(trailer: Trailer) -> tuple[Put, ...]:
    """What is taken for granted before anything is done: every supply gives air."""
    circuit = trailer.circuit
    first = trailer.own + len(circuit.hands)
    return tuple(
        Put(first + one.switch, circuit.switches[one.switch].values.index("present"), "")
        for one in trailer.design.supplies
        if circuit.switches[one.switch].values[circuit.switches[one.switch].start] != "present"
    )


class Watch:
    """Lanes, and what is left of them after each happening. gone: of each happening (by number,
    counting from 1) the lanes that it rules out."""

    def __init__(self, trailer: Trailer, lanes: Sequence[Lane]) -> None:
        self.fleet = Fleet(trailer, lanes)
        self.fleet.settle()
        self.gone: dict[int, tuple[int, ...]] = {}
        self._count = 0

    @property
    def left(self) -> tuple[int, ...]:
        return tuple(sorted(self.fleet.boxes))

    @property
    def look(self) -> Look:
        return self.fleet.look()

    def copy(self) -> Watch:
        """Another one that goes on from here by itself."""
        twin = copy.copy(self)
        twin.fleet, twin.gone = self.fleet.copy(), dict(self.gone)
        return twin

    def all(self, happenings: Iterable[Happening]) -> Watch:
        for one in happenings:
            if not self.fleet.boxes:
                break
            self.one(one)
        return self

    def one(self, happening: Happening) -> None:
        before = set(self.fleet.boxes)
        self._count += 1
        if isinstance(happening, Put):
            self.fleet.put(happening.thing, happening.value)
        else:
            look = self.fleet.look()
            wanted = 0
            for value in happening.values:
                wanted |= ways(self.fleet, look, happening.sign, value)
            self.fleet.keep_only(wanted, look)
        if self.fleet.boxes:
            self.fleet.settle()
        self.gone[self._count] = tuple(sorted(before - set(self.fleet.boxes)))
