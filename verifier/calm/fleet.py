"""What a whole fleet of trailers, each with its own faults, can come to and show.

Everything here is a superset: what a trailer can do is in its box, whatever moves first. So what is
not in it cannot be. Air that is cut off may leak, so it can always be low; it can be high if it was
when it was cut off. Rules P2 to P5, M1 to M4.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Iterator, Mapping, Sequence

from verifier.calm.demands import Demands
from verifier.calm.lanes import MOST_WAYS, Box, Lane, Layout, ways_of
from verifier.calm.rig import Rig
from verifier.calm.spread import Pressure, Spread
from verifier.calm.trailer import Trailer


class Look:
    """All lanes when all is at rest, hands and surroundings standing still.

    rest: the ways in which a lane can stand at rest. A lane that has no such way goes round without
    end, as far as is known here; then it may be looked at in any.
    """

    def __init__(self, fleet: Fleet, layout: Layout, air: Pressure, demands: Demands) -> None:
        self.layout = layout
        self.air = air
        self.demands = demands
        rest = layout.every
        for thing in fleet.cores:
            kept = layout.kept(thing)
            if not kept:
                continue
            stays = 0
            for position in range(fleet.counts[thing]):
                stays |= layout.place(thing, position) & demands.wanted(thing)[position]
            rest &= stays | ~kept
        resting = layout.lanes(layout.lanes_in(rest))
        self.restless = tuple(sorted(layout.lanes_in(layout.every & ~resting)))
        self.rest = rest | (layout.every & ~resting)

    def standing(self, thing: int, position: int) -> int:
        """The ways in which the thing stands there, or may."""
        here = self.layout.place(thing, position)
        followed = self.layout.every & ~self.layout.kept(thing)
        return here | (self.demands.wanted(thing)[position] & followed) if followed else here


class Fleet:
    """boxes: of each lane. lost: lanes with more ways than are looked at, of which nothing is said.

    Things are the elements of the design, then its hands, then its switches.
    """

    def __init__(self, trailer: Trailer, lanes: Sequence[Lane]) -> None:
        self.trailer = trailer
        self.lanes = tuple(lanes)
        circuit = trailer.circuit
        own, hands = trailer.own, len(circuit.hands)
        self.hand, self.switch = own, own + hands
        self.counts = [len(element.positions) for element in circuit.elements[:own]]
        self.counts += [2] * hands + [len(switch.values) for switch in circuit.switches]
        healthy = trailer.rig()
        self.cores = tuple(range(own))
        start = [1 << element.start for element in circuit.elements[:own]]
        start += [1 << int(hand.starts_on) for hand in circuit.hands]
        start += [1 << switch.start for switch in circuit.switches]
        self.boxes: dict[int, Box] = {}
        for number, lane in enumerate(self.lanes):
            touched = {e for name in lane.faults for e in trailer.touched(name)}
            box = [
                0 if e < own and e in healthy.followers and e not in touched else mask
                for e, mask in enumerate(start)
            ]
            for thing in lane.free:
                box[thing] = (1 << self.counts[thing]) - 1
            self.boxes[number] = tuple(box)
        self.lost: set[int] = set()
        self._now: Look | None = None
        self._spread = Spread(trailer, self.lanes)
        self.keeping = dict.fromkeys(self.boxes, self._at_first(healthy))

    def _at_first(self, healthy: Rig) -> int:
        """What has air at the start, should a fault cut it off there (a bit for each volume)."""
        circuit = self.trailer.circuit
        positions = tuple(element.start for element in circuit.elements[: self.trailer.own])
        air = healthy.air(positions, tuple(switch.start for switch in circuit.switches))
        return sum(1 << v for v, mine in enumerate(healthy.volume) if air.fed >> mine & 1)

    def acts(self, fault: int, layout: Layout) -> int:
        """The lanes in which the fault (its element) acts."""
        return self._spread.acts(fault, layout)

    def copy(self) -> Fleet:
        """Another one that goes on from here by itself."""
        twin = copy.copy(self)
        twin.boxes, twin.keeping, twin.lost = dict(self.boxes), dict(self.keeping), set(self.lost)
        return twin

    def drop(self, lanes: Iterable[int]) -> None:
        """Look no further at these."""
        gone = [number for number in lanes if number in self.boxes]
        if gone:
            self.boxes = {n: box for n, box in self.boxes.items() if n not in set(gone)}
            self._now = None

    def put(self, thing: int, value: int) -> None:
        """Work a hand or a switch, at rest, in all lanes but those where it is free. What may move
        in that very step by what was so before, may (M5)."""
        before = self.look()
        for number, box in self._stepped(before.layout, before.demands).items():
            changed = list(box)
            if thing not in self.lanes[number].free:
                changed[thing] = 1 << value
            self.boxes[number] = tuple(changed)
        self._now = None
        after = self.look()
        for volume, trapped in enumerate(after.air.trapped):
            if trapped:
                lanes = set(before.layout.lanes_in(before.air.high[volume] & before.rest))
                for lane in lanes.intersection(after.layout.lanes_in(trapped)):
                    if not self.keeping[lane] >> volume & 1:
                        self.keeping[lane] |= 1 << volume
                        self._now = None

    def keep_only(self, ways: int, look: Look) -> None:
        """Of the ways at this look only these; lanes of which none is left are gone."""
        left = ways & look.rest
        for number in set(self.boxes) - set(look.layout.lanes_in(left)) - self.lost:
            del self.boxes[number]
        self._now = None
        self._narrow(look, left)

    def settle(self) -> Look:
        """Let everything move that may, until all is at rest."""
        before: Look | None = None
        moved_on: set[int] = set()
        while True:
            look = self.look()
            news = self._cut_off(look, look)
            if before is not None:
                news = self._cut_off(before, look, moved_on) or news
            boxes = self._stepped(look.layout, look.demands)
            grown = [n for n, box in boxes.items() if box != self.boxes[n]]
            if not grown and not news:
                return self._come_to_rest(look)
            before, moved_on = look, set()
            for number, box in zip(grown, self._onward(look, boxes, grown), strict=True):
                if ways_of(box) > MOST_WAYS:
                    self.lost.add(number)
                    continue
                if box != boxes[number]:
                    moved_on.add(number)
                self.boxes[number] = box
            self._now = None

    def _onward(self, look: Look, boxes: Mapping[int, Box], grown: Sequence[int]) -> Iterator[Box]:
        """The boxes of the lanes that grew. Where one thing alone is under way, and it must go on
        whatever else is so, it is not at rest where it was: then only where it goes to counts."""
        held_up: dict[tuple[int, int, int], set[int]] = {}
        for number in grown:
            before, box = self.boxes[number], boxes[number]
            changed = [t for t, (a, b) in enumerate(zip(before, box, strict=True)) if a != b]
            thing = changed[0]
            origin, now = before[thing], box[thing]
            if len(changed) == 1 and origin.bit_count() == 1 and now.bit_count() == 2:
                position, onto = origin.bit_length() - 1, (now ^ origin).bit_length() - 1
                key = thing, position, onto
                if key not in held_up:
                    held_up[key] = self._held_up(look, *key)
                if number not in held_up[key]:
                    box = (*box[:thing], 1 << onto, *box[thing + 1 :])
            yield box

    def _held_up(self, look: Look, thing: int, position: int, onto: int) -> set[int]:
        """Lanes in which the thing need not go on from there."""
        wanted = look.demands.wanted(thing)
        others = 0
        for target in range(self.counts[thing]):
            if target == position or (target > position) != (onto > position):
                others |= wanted[target]
        return set(look.layout.lanes_in(look.layout.place(thing, position) & others))

    def look(self) -> Look:
        """As it is now."""
        if self._now is None:
            self._now = self._look()
        return self._now

    def _look(self) -> Look:
        layout = Layout({n: box for n, box in self.boxes.items() if n not in self.lost})
        air = self._spread.pressure(layout, self.keeping)
        return Look(self, layout, air, Demands(self.trailer, self._spread, layout, air))

    def _stepped(self, layout: Layout, demands: Demands) -> dict[int, Box]:
        """The boxes with where things can be one step on."""
        gained: dict[int, list[tuple[int, int]]] = {}
        for thing in self.cores:
            if not layout.kept(thing):
                continue
            wanted = demands.wanted(thing)
            count = self.counts[thing]
            for position in range(count):
                here = layout.place(thing, position)
                if not here:
                    continue
                for next_position, towards in (
                    (position + 1, range(position + 1, count)),
                    (position - 1, range(position)),
                ):
                    going = 0
                    for target in towards:
                        going |= here & wanted[target]
                    if going:
                        fresh = going & ~layout.having(thing, next_position)
                        for lane in layout.lanes_in(fresh):
                            gained.setdefault(lane, []).append((thing, next_position))
        boxes = {n: box for n, box in self.boxes.items() if n not in self.lost}
        for lane, things in gained.items():
            box = list(boxes[lane])
            for thing, position in things:
                box[thing] |= 1 << position
            boxes[lane] = tuple(box)
        return boxes

    def _cut_off(self, before: Look, look: Look, only: set[int] | None = None) -> bool:
        """Note which volumes can have kept air that they had before; whether that is news."""
        news = False
        for volume, trapped in enumerate(look.air.trapped):
            if not trapped or not before.air.high[volume]:
                continue
            lanes = set(look.layout.lanes_in(trapped))
            if only is not None:
                lanes &= only
            if not lanes:
                continue
            for lane in lanes.intersection(before.layout.lanes_in(before.air.high[volume])):
                if not self.keeping[lane] >> volume & 1:
                    self.keeping[lane] |= 1 << volume
                    news = True
        return news

    def _come_to_rest(self, look: Look) -> Look:
        """Leave out where things cannot be at rest, as often as that changes anything."""
        while self._narrow(look, look.rest):
            self._now = None
            look = self.look()
        keeping = dict.fromkeys(self.boxes, 0)
        for volume, trapped in enumerate(look.air.trapped):
            for lane in look.layout.lanes_in(trapped & look.air.high[volume] & look.rest):
                keeping[lane] |= 1 << volume
        # What is not cut off at rest has kept nothing; that changes nothing of this look.
        self.keeping = keeping
        return look

    def _narrow(self, look: Look, ways: int) -> bool:
        """Boxes around these ways only; whether any became smaller."""
        layout = look.layout
        smaller: dict[int, dict[int, int]] = {}
        for thing, count in enumerate(self.counts):
            for position in range(count):
                here = layout.place(thing, position)
                if not here or not layout.having(thing, position) & ~here:
                    continue
                left = set(layout.lanes_in(ways & here))
                for lane in layout.lanes_in(layout.having(thing, position)):
                    if lane not in left:
                        mine = smaller.setdefault(lane, {})
                        mine[thing] = mine.get(thing, 0) | 1 << position
        changed = False
        for lane, things in smaller.items():
            box = list(self.boxes.get(lane, ()))
            if not box:
                continue
            for thing, gone in things.items():
                if thing not in self.lanes[lane].free:
                    box[thing] &= ~gone
            if tuple(box) != self.boxes[lane]:
                self.boxes[lane] = tuple(box)
                changed = True
        return changed
