"""What explains what was done and seen: first what nobody mentioned, then what may have failed.

A trailer that is ruled out cannot have shown what was seen, whatever moved first (verifier.calm).
For each that is left a run is found, and the simulator replays it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from msgspec import structs

from verifier.calm.lanes import Lane
from verifier.calm.runner import run_through
from verifier.calm.script import Happening, Put, Seen
from verifier.calm.settling import TooMany
from verifier.calm.trailer import Trailer
from verifier.calm.watching import Watch, usual
from verifier.model.circuit import Circuit
from verifier.model.names import spoken
from verifier.model.strikes import Strike, single_strikes
from verifier.model.weaving import told
from verifier.report.diagnosis import Diagnosis, Explanation, Kind
from verifier.report.result import Story
from verifier.studies.advice import Adviser
from verifier.studies.observing import Said, put_words
from verifier.studies.retelling import retell
from verifier.studies.story import tell

MOST_LANES = 60_000
MOST_PAIRS_OF_INPUTS = 150


class TooWide(Exception):
    """More sets of faults than can be looked at. The message says what to do."""


def trailer_of(circuit: Circuit, considered: Sequence[Strike]) -> Trailer:
    """With these faults, and with all tubes that can be plugged."""
    names = {one.name for one in considered}
    plugs = [
        one
        for one in single_strikes(circuit)
        if one.kind == "tube" and one.label == "blocked" and one.name not in names
    ]
    return Trailer(circuit, (*considered, *plugs))


def diagnose(
    trailer: Trailer,
    considered: Sequence[Strike],
    said: Said,
    file: str,
    order: int = 1,
    advise: bool = True,
    gauge: bool = True,
) -> Diagnosis:
    """Raises TooWide, EvidenceError."""
    return _Study(trailer, considered, said, file, order).result(advise, gauge)


class _Study:
    def __init__(
        self, trailer: Trailer, considered: Sequence[Strike], said: Said, file: str, order: int
    ) -> None:
        self.trailer = trailer
        self.considered = tuple(considered)
        self.said = said
        self.file = file
        self.order = order
        self.plugs = tuple(said.plugs)
        self.happenings: tuple[Happening, ...] = (*usual(trailer), *said.happenings)
        self.undecided: list[str] = []
        self._pairs: dict[str, None] = {}

    def result(self, advise: bool, gauge: bool) -> Diagnosis:
        things = self._things()
        lanes = [Lane(self.plugs), *(Lane(self.plugs, (one,)) for one in things)]
        inputs = len(lanes)
        lanes += [Lane((one.name, *self.plugs)) for one in self.considered]
        left = self._left(lanes)
        found: list[tuple[Lane, Explanation]] = []
        if 0 in left:
            found += self._explained([lanes[0]])
        else:
            found += self._explained([lanes[n] for n in left if n < inputs])
        if not found:
            found += self._by_two(things)
        found += self._explained(self._ranked([lanes[n] for n in left if n >= inputs]))
        order = 1
        while order < self.order:
            order += 1
            found += self._together(order, found)
        explanations = tuple(one for _, one in found)
        diagnosis = Diagnosis(
            design=self.trailer.design.name,
            file=self.file,
            happened=tuple(self._happened()),
            taken=tuple(self._taken()),
            considered=len(self.considered),
            order=self.order,
            explanations=explanations,
            undecided=tuple(self._undecided()),
        )
        if not found and not diagnosis.undecided:
            return self._hardest(diagnosis, lanes)
        if advise and len(found) > 1:
            adviser = Adviser(self.trailer, self.happenings, gauge)
            advice, alike = adviser.next([lane for lane, _ in found])
            diagnosis = structs.replace(diagnosis, next=advice, alike=alike)
        return diagnosis

    def _left(self, lanes: Sequence[Lane]) -> tuple[int, ...]:
        watch = Watch(self.trailer, lanes).all(self.happenings)
        return tuple(sorted({*watch.left, *watch.fleet.lost} & set(range(len(lanes)))))

    # ---- what nobody mentioned
    def _things(self) -> list[int]:
        """What somebody may have worked without saying so."""
        design, own = self.trailer.design, self.trailer.own
        things = [
            own + number
            for number, hand in enumerate(design.hands)
            if hand.part not in self.said.parts
        ]
        first = own + len(design.hands)
        things += [
            first + number
            for number, switch in enumerate(design.switches)
            if number not in self.said.switches
            and len(switch.values) > 1
            and (switch.part is None or switch.part not in self.said.parts)
        ]
        return things

    def _by_two(self, things: Sequence[int]) -> list[tuple[Lane, Explanation]]:
        """Two things that somebody may have worked, where none by itself explains it."""
        pairs = [Lane(self.plugs, free) for free in combinations(things, 2)]
        if len(pairs) > MOST_PAIRS_OF_INPUTS:
            return []
        return self._explained([pairs[n] for n in self._left(pairs)])

    # ---- faults
    def _ranked(self, lanes: Iterable[Lane]) -> list[Lane]:
        """Likelier first; those without a rate last, in the order of the design."""
        rates = {one.name: rate_of(one) for one in self.considered}
        return sorted(lanes, key=lambda lane: -(rates[lane.faults[0]] or 0.0))

    def _together(
        self, order: int, found: Sequence[tuple[Lane, Explanation]]
    ) -> list[tuple[Lane, Explanation]]:
        """Sets of so many faults, none of which has an explanation as a part."""
        known = [set(lane.faults) - set(self.plugs) for lane, one in found if one.kind == "faults"]
        single = {name for one in known if len(one) == 1 for name in one}
        names = [one.name for one in self.considered if one.name not in single]
        sets = [
            chosen
            for chosen in combinations(names, order)
            if not any(one <= set(chosen) for one in known if len(one) > 1)
        ]
        if len(sets) > MOST_LANES:
            raise TooWide(
                f"there are {len(sets)} sets of {order} faults, more than {MOST_LANES}; leave out "
                "what cannot be with `exclude fault … because … source …`, or ask for fewer at once"
            )
        lanes = [Lane((*chosen, *self.plugs)) for chosen in sets]
        return self._explained([lanes[n] for n in self._left(lanes)])

    def _explained(self, lanes: Iterable[Lane]) -> list[tuple[Lane, Explanation]]:
        found = []
        for lane in lanes:
            words, thing = self._words(lane)
            story, possible = self._story(lane, words)
            faults = tuple(name for name in lane.faults if name not in self.plugs)
            if story is None:
                if possible and len(lane.free) > 1:
                    self._pairs |= dict.fromkeys(self._thing(one) for one in lane.free)
                elif possible:
                    self.undecided.append(words)
                continue
            kind: Kind = "faults" if faults else "input" if lane.free else "as designed"
            rates = {one.name: rate_of(one) for one in self.considered}
            rate = rates[faults[0]] if len(faults) == 1 else None
            causes = faults or tuple(self._thing(one) for one in lane.free)
            found.append((lane, Explanation(kind, causes, words, thing, rate, story)))
        return found

    def _story(self, lane: Lane, words: str) -> tuple[Story | None, bool]:
        """A run that is replayed; or whether there may be one although none was found."""
        rig = self.trailer.rig(lane.faults)
        begun = self.trailer.begun(lane.faults)
        free = [self._free(one) for one in lane.free]
        try:
            trace = run_through(rig, begun, self.happenings, free, exact=not free)
        except TooMany:
            return None, True
        if trace is None:
            return None, False
        retold = retell(self.trailer, rig, trace, self.happenings)
        seen = [one.words for one in self.happenings if isinstance(one, Seen)]
        outcome = f"So it shows what was seen: {'; '.join(dict.fromkeys(seen))}." if seen else ""
        return tell(retold.circuit, retold.run, outcome or words, shortest=False), True

    def _free(self, thing: int) -> tuple[bool, int, int]:
        hand = thing - self.trailer.own
        hands = len(self.trailer.design.hands)
        if hand < hands:
            return True, hand, 2
        return False, hand - hands, len(self.trailer.design.switches[hand - hands].values)

    # ---- words
    def _words(self, lane: Lane) -> tuple[str, str]:
        """The explanation, and the thing that it is about."""
        faults = [name for name in lane.faults if name not in self.plugs]
        if faults:
            by_name = {one.name: one for one in self.trailer.strikes}
            return " and ".join(told(by_name[name]) for name in faults), self._of(faults)
        if lane.free:
            return " and ".join(self._thing(one) for one in lane.free), self._thing(lane.free[0])
        return "nothing has failed, and nothing was worked that was not mentioned", ""

    def _of(self, faults: Sequence[str]) -> str:
        """The part, tube or supply that a single fault is of."""
        if len(faults) > 1:
            return ""
        (strike,) = (one for one in self.trailer.strikes if one.name == faults[0])
        if strike.part is not None:
            return self.trailer.design.parts[strike.part].name
        if strike.kind == "tube":
            return strike.name.split(f" {strike.label}")[0]
        return ""

    def _thing(self, thing: int) -> str:
        design = self.trailer.design
        hand = thing - self.trailer.own
        if hand < len(design.hands):
            control = design.hands[hand]
            return f"{design.parts[control.part].name} is {spoken(control.label)}"
        switch = design.switches[hand - len(design.hands)]
        for supply in design.supplies:
            if supply.switch == hand - len(design.hands):
                return f"{supply.name} does not give air all the time"
        usual_value = spoken(switch.values[switch.start])
        return f"{switch.name} is not {usual_value} all the time"

    def _taken(self) -> Iterator[str]:
        for one in usual(self.trailer):
            yield put_words(self.trailer, one)
        for name in self.plugs:
            yield f"{name.removesuffix(' blocked')} is plugged"

    def _happened(self) -> Iterator[str]:
        before = ""
        for one in self.said.happenings:
            words = f"{'did' if isinstance(one, Put) else 'saw'}: {one.words}"
            if one.words and words != before:
                yield words
                before = words

    def _undecided(self) -> Iterator[str]:
        yield from self.undecided
        if self._pairs:
            yield f"two at once of: {', '.join(self._pairs)}"

    # ---- no explanation
    def _hardest(self, diagnosis: Diagnosis, lanes: Sequence[Lane]) -> Diagnosis:
        best, most, last = "", 0, 0
        for number, one in enumerate(self.happenings):
            if isinstance(one, Seen):
                rest = (*self.happenings[:number], *self.happenings[number + 1 :])
                left = len(Watch(self.trailer, lanes).all(rest).left)
                if left > most:
                    best, most = one.words, left
        if not most:
            gone = Watch(self.trailer, lanes).all(self.happenings).gone
            number = max(number for number, some in gone.items() if some)
            best, last = self.happenings[number - 1].words, len(gone[number])
        return structs.replace(diagnosis, hardest=best, hardest_left=most, hardest_before=last)


def rate_of(strike: Strike) -> float | None:
    """How often an hour (N1); None if the design does not say."""
    rate = strike.rate
    if rate is None:
        return None
    if rate.per_hour is not None:
        return rate.per_hour
    if rate.b10d is None or rate.cycles_per_year is None:
        return None
    return 0.1 * rate.cycles_per_year / rate.b10d / 8760
