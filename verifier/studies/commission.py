"""A procedure that tests a finished trailer, and what it is sure to reveal.

A step reveals a fault if the trailer with it cannot show what a sound one always shows there,
whatever moves first: that is so of its box (verifier.calm.fleet), which is a superset of all that
it can do.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from msgspec import Struct

from verifier.calm.contexts import Operation, Trial, trials
from verifier.calm.fleet import Fleet
from verifier.calm.fleet import Look as At
from verifier.calm.rig import State
from verifier.calm.runner import run_through
from verifier.calm.sameness import indifferent, only_loosens
from verifier.calm.script import Happening, Seen
from verifier.calm.settling import TooMany
from verifier.calm.showing import shown, ways
from verifier.calm.signs import Sign, place_of, signs_of
from verifier.calm.trailer import Trailer
from verifier.calm.watching import usual
from verifier.model.circuit import Circuit, Property
from verifier.model.names import element_name, spoken
from verifier.model.strikes import Strike
from verifier.report.commission import Danger, Look, Procedure, SheetStep, Unrevealed
from verifier.studies.choosing import chosen_trials, fewest, greedy_trials
from verifier.studies.hazards import broken_ways
from verifier.studies.observing import put_words
from verifier.studies.retelling import retell
from verifier.studies.walks import SOUND, Shown, carry_out, fleet_of, listened, route, shown_in

MOST_OFTEN = 30_000
"""Trials times faults, up to which a fault is tried on until it has been revealed often."""
OFTEN, TWICE = 5, 2


class Asked(Struct, frozen=True):
    """visible: numbers of elements that can be seen although something else follows them.
    left_out: hands and switches that the tester does not touch.   hazards: what must not be
    meanwhile.   wrong: names of the wrong connections among the faults; not_tried: of those that
    are not."""

    visible: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    hazards: tuple[Property, ...] = ()
    wrong: tuple[str, ...] = ()
    not_tried: tuple[str, ...] = ()


class _Step(Struct):
    """shown: all that a sound trailer shows one way only; kept: those that are worth a look.
    gone: of each of these the lanes that do not come past it.   endangered: lanes that come here,
    and what they can break."""

    operation: Operation
    shown: list[Shown]
    kept: list[int]
    gone: list[frozenset[int]]
    endangered: list[tuple[int, str]]


def commission(circuit: Circuit, faults: Sequence[Strike], asked: Asked, file: str) -> Procedure:
    """Raises EvidenceError, LostTheWay."""
    return _Study(circuit, faults, asked, file).result()


class _Study:
    def __init__(self, circuit: Circuit, faults: Sequence[Strike], asked: Asked, file: str) -> None:
        self.circuit = circuit
        self.asked = asked
        self.file = file
        self.faults = tuple(faults)
        self.names = tuple(one.name for one in faults)
        self.trailer = Trailer(circuit, faults)
        seen = list(signs_of(self.trailer.circuit))
        known = {one.element for one in seen}
        more = [place_of(self.trailer.design, e) for e in asked.visible if e not in known]
        self.signs: list[Sign] = [*seen, *more]
        self.first = usual(self.trailer)
        self.begin = self._begin()
        self.restless: set[int] = set()
        self._at_once: frozenset[int] = frozenset()
        self._risky: list[bool] = []

    def result(self) -> Procedure:
        tried = trials(self.trailer, self.begin, self.asked.left_out)
        before = [one.before for one in tried]
        reveals = self._tried_on(tried)
        chosen, exact = chosen_trials(reveals, before, self._risky)
        greedy = greedy_trials(reveals, before)
        simple = self._every_valve(tried)
        walk = self._route(tried, chosen)
        steps = self._carried_out(walk)
        looks_exact = self._choose_looks(steps)
        self._tested(steps)
        revealed = {lane for one in steps for gone in one.gone for lane in gone}
        return Procedure(
            design=self.circuit.name,
            title=self.circuit.title,
            revision=self.circuit.revision,
            file=self.file,
            taken=tuple(put_words(self.trailer, one) for one in self.first),
            steps=tuple(self._told(steps)),
            faults=len(self.names) - len(self.asked.wrong),
            wrong=len(self.asked.wrong),
            revealed=sum(self._name(n) not in self.asked.wrong for n in revealed),
            revealed_wrong=sum(self._name(n) in self.asked.wrong for n in revealed),
            unrevealed=tuple(self._unrevealed(steps, revealed)),
            dangers=tuple(self._dangers(steps)),
            hazards=tuple(one.name for one in self.asked.hazards),
            exact=exact and looks_exact,
            greedy=self._beside(tried, greedy, reveals),
            every_valve=self._beside(tried, simple, reveals),
            not_tried=self.asked.not_tried,
            restless=tuple(self._name(n) for n in sorted(self.restless)),
        )

    def _begin(self) -> State:
        trace = run_through(self.trailer.rig(), self.trailer.begun(), self.first)
        if trace is None:
            raise ValueError("a sound trailer cannot be given air")
        return trace.states[-1]

    def _name(self, lane: int) -> str:
        return self.names[lane - 1]

    # ---- which trials reveal which faults
    def _tried_on(self, tried: Sequence[Trial]) -> list[frozenset[int]]:
        """Of each trial the lanes that it reveals, gone to directly. What has been revealed often
        is not tried on any more."""
        first = fleet_of(self.trailer, self.names)
        carry_out(first, self.first)
        self._at_once = self._revealed(first)
        known = _Known(self._at_once, len(tried) * len(self.names))
        fleets: dict[int | None, Fleet] = {None: first}
        needed = {one.before for one in tried}
        found = []
        for number, one in enumerate(tried):
            fleet = fleets[one.before].copy()
            fleet.drop(known.enough)
            look = carry_out(fleet, one.operation.puts)
            self._risky.append(bool(self._endangered(fleet, look)))
            some = self._revealed(fleet)
            found.append(some)
            known.add(some)
            if number in needed:
                fleets[number] = fleet
        return found

    def _revealed(self, fleet: Fleet) -> frozenset[int]:
        heard = listened(fleet, self.signs)
        return frozenset().union(*(one.reveals for one in (*heard, *shown_in(fleet, self.signs))))

    def _every_valve(self, tried: Sequence[Trial]) -> list[int]:
        """The simple way: of each thing that can be worked the first trial that works it."""
        first: dict[int, int] = {}
        for number, one in enumerate(tried):
            first.setdefault(one.operation.puts[0].thing, number)
        taken: set[int] = set()
        for number in first.values():
            here: int | None = number
            while here is not None:
                taken.add(here)
                here = tried[here].before
        return sorted(taken)

    def _route(self, tried: Sequence[Trial], chosen: Sequence[int]) -> list[Operation]:
        """Product flows last, when most that could be wrong would have been seen."""
        some = [tried[number] for number in chosen]
        rig = self.trailer.rig()
        flows = [one for one in self.signs if one.paths]
        last = [
            one
            for one in some
            if any(1 in shown(rig, state, s) for s in flows for state in (one.begin, one.after))
        ]
        return route(self.trailer, self.begin, some, last)

    def _beside(
        self, tried: Sequence[Trial], chosen: Sequence[int], reveals: Sequence[frozenset[int]]
    ) -> tuple[int, int]:
        revealed = self._at_once.union(*(reveals[number] for number in chosen))
        return len(self._route(tried, chosen)) + 1, len(revealed)

    # ---- the walk
    def _carried_out(self, walk: Sequence[Operation]) -> list[_Step]:
        fleet = fleet_of(self.trailer, self.names)
        known = _Known((), len(walk) * len(self.names))
        steps = []
        for operation in (Operation(self.first), *walk):
            fleet.drop(known.enough)
            carry_out(fleet, operation.puts)
            heard = listened(fleet, self.signs)
            here = [*heard, *shown_in(fleet, self.signs)]
            steps.append(_Step(operation, here, list(range(len(heard))), [], []))
            known.add(frozenset().union(*(one.reveals for one in here)))
        return steps

    def _choose_looks(self, steps: Sequence[_Step]) -> bool:
        """Fewest looks, besides listening, that reveal all that any does."""
        heard = {lane for step in steps for k in step.kept for lane in step.shown[k].reveals}
        sets = {
            (number, k): one.reveals - heard
            for number, step in enumerate(steps)
            for k, one in enumerate(step.shown)
            if k not in step.kept
        }
        chosen, exact = fewest(sets)
        for number, k in chosen:
            steps[number].kept.append(k)
        return exact

    def _tested(self, steps: Sequence[_Step]) -> None:
        """The test as it will be made: whoever sees anything else than what must show, stops."""
        fleet = fleet_of(self.trailer, self.names)
        for step in steps:
            look = carry_out(fleet, step.operation.puts)
            self.restless |= set(look.restless) - {SOUND}
            step.endangered = self._endangered(fleet, look)
            for k in sorted(step.kept):
                before = frozenset(fleet.boxes)
                one = step.shown[k]
                fleet.keep_only(ways(fleet, look, one.sign, one.value), look)
                look = fleet.settle()
                step.gone.append(before - frozenset(fleet.boxes))

    def _endangered(self, fleet: Fleet, look: At) -> list[tuple[int, str]]:
        """Lanes that may break what must not be broken."""
        return [
            (lane, item.name)
            for item in self.asked.hazards
            for lane in look.layout.lanes_in(broken_ways(fleet, look, item))
            if lane != SOUND
        ]

    # ---- what is told
    def _told(self, steps: Sequence[_Step]) -> list[SheetStep]:
        found = []
        for number, step in enumerate(steps, 1):
            looks = []
            for k, gone in zip(sorted(step.kept), step.gone, strict=True):
                names = tuple(self._name(n) for n in sorted(gone))
                looks.append(Look(*self._look(step.shown[k]), names))
            words = [w for put in step.operation.puts if (w := put_words(self.trailer, put))]
            does = " and ".join(words)
            found.append(SheetStep(number, does, tuple(self._did(words)), tuple(looks)))
        return found

    def _did(self, words: Iterable[str]) -> list[str]:
        return [
            one.removesuffix(" and keep it so").replace("let go of", "release") for one in words
        ]

    def _look(self, one: Shown) -> tuple[str, str, str]:
        """Where to look, what it shows, and the same as one says that he saw it."""
        sign, value = one.sign, one.value
        design = self.trailer.design
        if sign.element is not None:
            name = element_name(design, sign.element)
            position = spoken(design.elements[sign.element].positions[value])
            return name, position, f"{name} {position}"
        no = "" if value else "no "
        if sign.paths:
            network = design.networks[sign.paths[0].network]
            start, end = (network.places[p] for p in (sign.paths[0].start, sign.paths[0].end))
            words = f"{no}flow from {start} to {end}"
            return f"product from {start} to {end}", "runs" if value else "does not run", words
        if sign.added:
            return "air blowing out anywhere else", "none", "no air blowing out anywhere"
        port = sign.name.removeprefix("air blowing out of ")
        return sign.name, "air" if value else "none", f"{no}air blowing out of {port}"

    def _dangers(self, steps: Sequence[_Step]) -> list[Danger]:
        """Only faults that no step before has revealed: the test ends at what is not as it
        should be."""
        found: dict[tuple[int, str], Danger] = {}
        for number, step in enumerate(steps, 1):
            for lane, name in step.endangered:
                found.setdefault((lane, name), Danger(self._name(lane), number, name))
        return list(found.values())

    # ---- what is not revealed
    def _unrevealed(self, steps: Sequence[_Step], revealed: set[int]) -> list[Unrevealed]:
        left = [name for lane, name in enumerate(self.names, 1) if lane not in revealed]
        same = set(indifferent(self.trailer, left))
        script: list[Happening] = []
        for step in steps:
            script += step.operation.puts
            for k in sorted(step.kept):
                one = step.shown[k]
                script.append(Seen(one.sign, (one.value,), self._look(one)[2]))
        found = []
        for name in left:
            if only_loosens(self.trailer, name):
                words = "it may do nothing for as long as the test takes"
                found.append(Unrevealed(name, "never", words))
            elif name in same:
                words = "wherever things stand, all that is read or heard has air as without it"
                found.append(Unrevealed(name, "never", words))
            else:
                found.append(self._hides(name, script))
        return found

    def _hides(self, name: str, script: Sequence[Happening]) -> Unrevealed:
        """Whether it can get through the test: by a run that the simulator replays."""
        rig = self.trailer.rig((name,))
        try:
            trace = run_through(rig, self.trailer.begun((name,)), script, exact=False)
        except TooMany:
            trace = None
        if trace is None:
            return Unrevealed(name, "open", "no run was found in which it gets through")
        retell(self.trailer, rig, trace, script)
        return Unrevealed(name, "hides", "a run was replayed in which it gets through this test")


class _Known:
    """How often each lane has been revealed; enough: those that have been so often enough."""

    def __init__(self, first: Iterable[int], size: int) -> None:
        self._most = OFTEN if size <= MOST_OFTEN else TWICE
        self._times: Counter[int] = Counter()
        self.enough = set(first)

    def add(self, lanes: Iterable[int]) -> None:
        for lane in lanes:
            self._times[lane] += 1
            if self._times[lane] >= self._most:
                self.enough.add(lane)
