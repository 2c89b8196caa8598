"""Where air is, in bits: bit k of a number is volume k (rules P2 to P6)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple


class Blow(NamedTuple):
    """A passage: open while each element named stands in one of the positions."""

    start: int
    end: int
    full: bool
    one_way: bool
    where: tuple[tuple[int, frozenset[int]], ...]


class Air(NamedTuple):
    """fed, vented: in either phase.   onward, back: of each volume those that it passes air to, and
    that pass air to it, among the trapped."""

    fed: int
    vented: int
    trapped: int
    onward: dict[int, int]
    back: dict[int, int]

    def readings(self, kept: int) -> tuple[int, int]:
        """Which volumes can be high and which low, when these have kept air (P4)."""
        if not self.trapped:
            return self.fed, self.vented
        kept &= self.trapped
        high = self.fed | _reached(kept, self.onward)
        return high, self.vented | _reached(self.trapped & ~kept, self.back)


def air_in(
    count: int,
    blows: Iterable[Blow],
    positions: Sequence[int],
    sources: Iterable[int],
    sinks: Iterable[int],
) -> Air:
    """First the full bore decides, then passages of either bore the rest; then what is cut off."""
    wide: dict[int, int] = {}
    wide_back: dict[int, int] = {}
    narrow: list[tuple[int, int, bool]] = []
    for start, end, full, one_way, where in blows:
        for element, allowed in where:
            if positions[element] not in allowed:
                break
        else:
            if start == end:
                continue
            if not full:
                narrow.append((start, end, one_way))
                continue
            wide[start] = wide.get(start, 0) | 1 << end
            wide_back[end] = wide_back.get(end, 0) | 1 << start
            if not one_way:
                wide[end] = wide.get(end, 0) | 1 << start
                wide_back[start] = wide_back.get(start, 0) | 1 << end
    fed = _reached(_bits(sources), wide)
    vented = _reached(_bits(sinks), wide_back)
    full_bore = fed | vented
    every = (1 << count) - 1
    if full_bore == every:
        return Air(fed, vented, 0, {}, {})
    for start, end, one_way in narrow:
        wide[start] = wide.get(start, 0) | 1 << end
        wide_back[end] = wide_back.get(end, 0) | 1 << start
        if not one_way:
            wide[end] = wide.get(end, 0) | 1 << start
            wide_back[start] = wide_back.get(start, 0) | 1 << end
    inner = ~full_bore
    fed |= _reached(fed, {v: ends & inner for v, ends in wide.items()})
    vented |= _reached(vented, {v: ends & inner for v, ends in wide_back.items()})
    trapped = every & ~(fed | vented)
    if not trapped:
        return Air(fed, vented, 0, {}, {})
    onward = {v: e & trapped for v, e in wide.items() if trapped >> v & 1 and e & trapped}
    back = {v: e & trapped for v, e in wide_back.items() if trapped >> v & 1 and e & trapped}
    return Air(fed, vented, trapped, onward, back)


def _bits(volumes: Iterable[int]) -> int:
    found = 0
    for volume in volumes:
        found |= 1 << volume
    return found


def _reached(starts: int, links: dict[int, int]) -> int:
    """The starts and all that they lead to (P6)."""
    found = waiting = starts
    while waiting:
        lowest = waiting & -waiting
        waiting ^= lowest
        ends = links.get(lowest.bit_length() - 1, 0) & ~found
        found |= ends
        waiting |= ends
    return found
