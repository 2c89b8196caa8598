"""What to do and look at next: what rules out most, with hands, eyes, ears, a gauge or a plug."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from verifier.calm.lanes import Lane
from verifier.calm.script import Happening, Put
from verifier.calm.showing import values_of, ways
from verifier.calm.signs import Sign, gauges_of, signs_of
from verifier.calm.trailer import Trailer
from verifier.calm.watching import Watch
from verifier.model.names import element_name, spoken
from verifier.report.diagnosis import Advice, Alike, Outcome
from verifier.studies.observing import put_words

LISTEN = Sign("where air blows out that should not")
LOOK, WORK, GAUGE, PLUG = 0, 1, 2, 4
MOST_LANES = 400
MOST_PLUGGED = 60
Sets = dict[int, frozenset[int]]


class _Test(Struct, frozen=True):
    """sets: of each value that the sign can show, the lanes that can show it."""

    puts: tuple[Put, ...]
    sign: Sign
    sets: tuple[tuple[int, frozenset[int]], ...]
    cost: int
    plug: str = ""


class Adviser:
    """Knows what can be looked at, heard and measured of a trailer after what has happened."""

    def __init__(
        self, trailer: Trailer, happenings: Sequence[Happening], gauge: bool = True
    ) -> None:
        self.trailer = trailer
        self.happenings = tuple(happenings)
        self.signs = [one for one in signs_of(trailer.circuit) if not one.added]
        heard = dict.fromkeys(hole.spot for hole in trailer.holes)
        self.spots = tuple(heard)
        self.gauges = gauges_of(trailer.design) if gauge else ()

    def next(self, lanes: Sequence[Lane]) -> tuple[Advice | None, tuple[Alike, ...]]:
        """For these explanations: the best test; or that they are not told apart."""
        if len(lanes) > MOST_LANES:
            lanes = lanes[:MOST_LANES]
        count = len(lanes)
        best: _Test | None = None
        for test in self._tests(lanes):
            if _worth(test, count) and (best is None or _key(test, count) < _key(best, count)):
                best = test
        if best is not None:
            return self._advice(best, count), ()
        return None, (Alike(tuple(range(1, count + 1)), reach=1),)

    def _tests(self, lanes: Sequence[Lane]) -> Iterator[_Test]:
        watch = Watch(self.trailer, lanes).all(self.happenings)
        yield from self._looks(watch, (), LOOK)
        for puts in self._operations():
            yield from self._looks(watch.copy().all(puts), puts, WORK)
        if len(lanes) <= MOST_PLUGGED:
            yield from self._plugged(lanes)

    def _looks(
        self, watch: Watch, puts: tuple[Put, ...], cost: int, plug: str = ""
    ) -> Iterator[_Test]:
        fleet, look = watch.fleet, watch.look
        yield _Test(puts, LISTEN, self._heard(watch), cost, plug)
        for sign in (*self.signs, *self.gauges):
            sets = []
            for value in values_of(fleet, sign):
                there = look.layout.lanes_in(ways(fleet, look, sign, value))
                can = frozenset(there) | frozenset(fleet.lost)
                if can:
                    sets.append((value, can))
            more = GAUGE if sign.gauge is not None else 0
            yield _Test(puts, sign, tuple(sets), cost + more, plug)

    def _heard(self, watch: Watch) -> tuple[tuple[int, frozenset[int]], ...]:
        """Where air blows out that should not: the number of the spot, or -1 for nowhere."""
        fleet, look = watch.fleet, watch.look
        silent = look.rest
        sets = []
        for number, spot in enumerate(self.spots):
            sign = Sign("", spot=spot)
            there = look.layout.lanes_in(ways(fleet, look, sign, 1))
            silent &= ways(fleet, look, sign, 0)
            if there:
                sets.append((number, frozenset(there) | frozenset(fleet.lost)))
        nowhere = frozenset(look.layout.lanes_in(silent)) | frozenset(fleet.lost)
        return (*sets, (-1, nowhere)) if nowhere else tuple(sets)

    def _operations(self) -> Iterator[tuple[Put, ...]]:
        """One thing done."""
        on = self._now()
        design, own = self.trailer.design, self.trailer.own
        for number in range(len(design.hands)):
            thing = own + number
            if not self.trailer.held[number]:
                yield Put(thing, 1, ""), Put(thing, 0, "")
            else:
                yield (Put(thing, 1 - on[thing], ""),)
        first = own + len(design.hands)
        for supply in design.supplies:
            values = design.switches[supply.switch].values
            for value in ("present", "absent"):
                if value in values and on[first + supply.switch] != values.index(value):
                    yield (Put(first + supply.switch, values.index(value), ""),)

    def _now(self) -> dict[int, int]:
        design, own = self.trailer.design, self.trailer.own
        on = {own + k: int(hand.starts_on) for k, hand in enumerate(design.hands)}
        first = own + len(design.hands)
        on |= {first + k: switch.start for k, switch in enumerate(design.switches)}
        on |= {one.thing: one.value for one in self.happenings if isinstance(one, Put)}
        return on

    def _plugged(self, lanes: Sequence[Lane]) -> Iterator[_Test]:
        """The same again with a tube plugged, and then a look."""
        puts = tuple(one for one in self.happenings if isinstance(one, Put))
        for tube in self.trailer.design.tubes:
            plug = f"tube {tube.name} blocked"
            if plug not in self.trailer.fault:
                continue
            again = [Lane(tuple(dict.fromkeys((*lane.faults, plug))), lane.free) for lane in lanes]
            yield from self._looks(Watch(self.trailer, again).all(puts), puts, PLUG, plug)

    # ---- words
    def _advice(self, test: _Test, count: int) -> Advice:
        does = [words for put in test.puts if (words := put_words(self.trailer, put))]
        if test.plug:
            does.insert(0, f"plug {test.plug.removesuffix(' blocked')}")
        outcomes = tuple(
            Outcome(self._shows(test.sign, value), tuple(sorted(n + 1 for n in lanes)))
            for value, lanes in test.sets
        )
        worst = max(len(lanes) for _, lanes in test.sets)
        least = min(len(lanes) for _, lanes in test.sets)
        return Advice(
            tuple(does),
            self._look(test.sign),
            outcomes,
            count - worst,
            count - least,
            bool(test.plug),
        )

    def _look(self, sign: Sign) -> str:
        if sign.element is not None:
            return f"where {self._element(sign.element)} stands"
        if sign.gauge is not None:
            return f"what a {sign.name} reads"
        if sign is LISTEN:
            return "where air blows out of something that is broken or torn off, if it does"
        return f"whether there is {sign.name}"

    def _shows(self, sign: Sign, value: int) -> str:
        if sign.element is not None:
            position = self.trailer.circuit.elements[sign.element].positions[value]
            return f"{self._element(sign.element)} {spoken(position)}"
        if sign.gauge is not None:
            return "air" if value else "no air"
        if sign is LISTEN:
            return f"air blows out at {self.spots[value]}" if value >= 0 else "nowhere"
        return f"{'' if value else 'no '}{sign.name}"

    def _element(self, element: int) -> str:
        return element_name(self.trailer.design, element)


def _worth(test: _Test, count: int) -> bool:
    return len(test.sets) > 1 and any(len(lanes) < count for _, lanes in test.sets)


def _key(test: _Test, count: int) -> tuple[int, int, int, int]:
    """Fewest left whatever comes of it; then fewest on the whole; then the least work."""
    sizes = [len(lanes) for _, lanes in test.sets]
    return max(sizes), sum(sizes), test.cost, len(test.puts)
