"""Air in all lanes at once: where it can be, where it cannot (rules P2 to P6)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from verifier.calm.lanes import Lane, Layout
from verifier.calm.trailer import Trailer
from verifier.model.circuit import Where

Link = tuple[int, int]
"""The volume at its other end, and the number of the passage."""


class Pressure(Struct, frozen=True):
    """Of each volume the ways in which it can be high, can be low, is cut off; of each passage, by
    its number, those in which it is open."""

    high: list[int]
    low: list[int]
    trapped: list[int]
    open: dict[int, int]


class Spread:
    """Spreads air along the passages of a trailer with all its faults woven in.

    acting: of each fault, by its element, the lanes in which it acts.
    """

    def __init__(self, trailer: Trailer, lanes: Sequence[Lane]) -> None:
        self._trailer = trailer
        circuit = trailer.circuit
        self._own = trailer.own
        self.acting: dict[int, list[int]] = {}
        for number, lane in enumerate(lanes):
            for name in lane.faults:
                self.acting.setdefault(trailer.fault[name], []).append(number)
        count = len(circuit.volumes)
        self._full: list[list[Link]] = [[] for _ in range(count)]
        self._full_back: list[list[Link]] = [[] for _ in range(count)]
        self._any: list[list[Link]] = [[] for _ in range(count)]
        self._any_back: list[list[Link]] = [[] for _ in range(count)]
        self._passages: list[
            tuple[int, list[tuple[int, tuple[int, ...]]], list[int], list[int]]
        ] = []
        for number, passage in enumerate(circuit.passages):
            faults = [w for w in passage.where if w.element >= self._own]
            if passage.start == passage.end or not self._ever(faults):
                continue
            terms = [(w.element, w.positions) for w in passage.where if w.element < self._own]
            opened = [w.element for w in faults if 0 not in w.positions]
            shut = [w.element for w in faults if 0 in w.positions and w.element in self.acting]
            self._passages.append((number, terms, opened, shut))
            ends = [(passage.start, passage.end)]
            if not passage.one_way:
                ends.append((passage.end, passage.start))
            for start, end in ends:
                self._any[start].append((end, number))
                self._any_back[end].append((start, number))
                if passage.bore == "full":
                    self._full[start].append((end, number))
                    self._full_back[end].append((start, number))
        self._sinks = [v for v, one in enumerate(circuit.volumes) if one.open_air]
        switch = trailer.own + len(circuit.hands)
        self._supplies = [
            (switch + one.switch, circuit.switches[one.switch].values, one.volume)
            for one in circuit.supplies
        ]

    def _ever(self, faults: Sequence[Where]) -> bool:
        """Whether it is open in some lane, as far as faults go."""
        return all(0 in one.positions or one.element in self.acting for one in faults)

    def acts(self, fault: int, layout: Layout) -> int:
        """The lanes in which the fault (its element) acts."""
        known = layout.noted.get(fault)
        if known is None:
            lanes = self.acting.get(fault, ())
            known = layout.noted[fault] = layout.lanes(n for n in lanes if layout.has(n))
        return known

    def pressure(self, layout: Layout, keeping: Mapping[int, int]) -> Pressure:
        """keeping: of each lane a bit for each volume that can have kept air."""
        circuit = self._trailer.circuit
        open_ = self._open(layout)
        count = len(circuit.volumes)
        sources, sinks = [0] * count, [0] * count
        for volume in self._sinks:
            sinks[volume] = layout.every
        for thing, values, volume in self._supplies:
            for position, value in enumerate(values):
                if value in ("present", "weak"):
                    sources[volume] |= layout.place(thing, position)
                if value in ("absent", "weak"):
                    sinks[volume] |= layout.place(thing, position)
        fed = _spread(sources, self._full, open_, None)
        vented = _spread(sinks, self._full_back, open_, None)
        every = layout.every
        inner = [every & ~(f | v) for f, v in zip(fed, vented, strict=True)]
        trapped = [0] * count
        if any(inner):
            fed = _spread(fed, self._any, open_, inner)
            vented = _spread(vented, self._any_back, open_, inner)
            trapped = [i & ~(f | v) for i, f, v in zip(inner, fed, vented, strict=True)]
        high = fed
        if any(trapped):
            kept = self._kept(layout, keeping, trapped)
            if any(kept):
                more = _spread(kept, self._any, open_, trapped)
                high = [f | m for f, m in zip(fed, more, strict=True)]
        low = [v | t for v, t in zip(vented, trapped, strict=True)]
        return Pressure(high, low, trapped, open_)

    def _kept(
        self, layout: Layout, keeping: Mapping[int, int], trapped: Sequence[int]
    ) -> list[int]:
        found = [0] * len(trapped)
        for volume, ways in enumerate(trapped):
            if ways:
                lanes = [n for n in layout.lanes_in(ways) if keeping[n] >> volume & 1]
                if lanes:
                    found[volume] = ways & layout.lanes(lanes)
        return found

    def _open(self, layout: Layout) -> dict[int, int]:
        """Of each passage the ways in which it is open."""
        terms_open: dict[tuple[int, tuple[int, ...]], int] = {}
        found = {}
        for number, terms, opened, shut in self._passages:
            ways = layout.every
            for fault in opened:
                ways &= self.acts(fault, layout)
            for fault in shut:
                ways &= ~self.acts(fault, layout)
            for term in terms:
                if term not in terms_open:
                    thing, positions = term
                    here = 0
                    for position in positions:
                        here |= layout.place(thing, position)
                    terms_open[term] = here
                ways &= terms_open[term]
            found[number] = ways
        return found


def _spread(
    starts: Sequence[int],
    links: Sequence[Sequence[Link]],
    open_: Mapping[int, int],
    within: Sequence[int] | None,
) -> list[int]:
    """The starts and all that they lead to; beyond the starts only `within`."""
    found = list(starts)
    fresh = list(starts)
    waiting = [v for v, ways in enumerate(starts) if ways]
    queued = [bool(ways) for ways in starts]
    for volume in waiting:
        ways, fresh[volume], queued[volume] = fresh[volume], 0, False
        for end, passage in links[volume]:
            new = ways & open_[passage] & ~found[end]
            if within is not None:
                new &= within[end]
            if new:
                found[end] |= new
                fresh[end] |= new
                if not queued[end]:
                    queued[end] = True
                    waiting.append(end)
    return found
