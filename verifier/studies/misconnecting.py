"""Every single wrong connection of a design: proved to do no harm, or shown what it does."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from verifier.changes.symmetry import Symmetry, symmetries
from verifier.engines.crew import Crew, Task, ask_all, can_have_workers, default_jobs
from verifier.engines.worker import Failure
from verifier.evidence.named import Named
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.strikes import JUNCTION
from verifier.model.wrong_connections import (
    LeftOff,
    Swapped,
    WrongConnection,
    wrong_connections,
    wrong_words,
)
from verifier.report.families import families
from verifier.report.misconnections import (
    Judgement,
    Member,
    Misconnections,
    WrongConnectionTold,
    rank,
)
from verifier.report.result import PropertyResult
from verifier.studies.misconnected import clauses_of, judged
from verifier.studies.options import Options
from verifier.studies.prove import decide_all
from verifier.studies.study import HELPS
from verifier.studies.watching import Nobody, Watcher, watched

Key = tuple[str, frozenset[int], int]


def misconnections(
    loaded: Loaded,
    options: Options | None = None,
    watcher: Watcher | None = None,
    parts: Collection[str] = (),
) -> Misconnections:
    """All of them, or those at these parts, worst first. An interrupt ends it; then what is known
    is told.

    Raises as `prove` does.
    """
    options, watcher = options or Options(), watcher or Nobody()
    names = tuple(dict.fromkeys(item.name for item in loaded.circuit.properties))
    with watched(watcher):
        study, results = decide_all(loaded, options, names, watcher) if names else (None, ())
        earlier = () if study is None else clauses_of(study)
        return _Study(loaded, options, watcher, results, earlier, tuple(parts)).result()


class _Study:
    """`known`: judgements by number of the wrong connection, own or by symmetry."""

    def __init__(
        self,
        loaded: Loaded,
        options: Options,
        watcher: Watcher,
        results: Sequence[PropertyResult],
        earlier: Sequence[Named],
        parts: tuple[str, ...],
    ) -> None:
        self.parts = parts
        self.loaded = loaded
        self.circuit: Circuit = loaded.circuit
        self.options = options
        self.watcher = watcher
        self.earlier = earlier
        stated = [one for one in results if not one.free]
        self.held = tuple(k for k, one in enumerate(stated) if one.verdict == "holds")
        self.wrong = tuple(one for one in wrong_connections(self.circuit) if self._asked(one))
        self.known: dict[int, Judgement] = {}
        self.by: dict[int, int] = {}
        self.interrupted = False

    def result(self) -> Misconnections:
        groups = _groups(self.circuit, self.wrong)
        try:
            self._judge([next(iter(group)) for group in groups])
            self._judge([k for group in groups for k in self._left(group)])
        except KeyboardInterrupt:
            self.interrupted = True
        properties = self.circuit.properties
        held = {properties[k].name: None for k in self.held}
        return Misconnections(
            swaps=sum(isinstance(one, Swapped) for one in self.wrong),
            left_off=sum(isinstance(one, LeftOff) for one in self.wrong),
            judged=sum(k == by for k, by in self.by.items()),
            known=len(self.known),
            held=tuple(held),
            not_held=tuple(one.name for k, one in enumerate(properties) if k not in self.held),
            told=tuple(self._told()),
            interrupted=self.interrupted,
            parts=self.parts,
        )

    def _asked(self, wrong: WrongConnection) -> bool:
        ports = (self.circuit.ports[k].part for k in self._ports(wrong))
        return not self.parts or any(self.circuit.parts[k].name in self.parts for k in ports)

    def _left(self, group: dict[int, frozenset[int]]) -> list[int]:
        """Takes what is alike for known; returns the others. What breaks one property breaks it in
        all that are alike as far as that property sees; what does no harm, as far as all see."""
        first, *others = group
        found = self.known[first]
        if found.outcome == "broken":
            number = [item.name for item in self.circuit.properties].index(found.property)
            needed = frozenset([number])
        else:
            needed = frozenset(self.held)
        left = []
        for one in others:
            if needed <= group[one]:
                self.known[one], self.by[one] = found, first
            else:
                left.append(one)
        return left

    def _judge(self, numbers: Sequence[int]) -> None:
        loaded, held, options, earlier = self.loaded, self.held, self.options, self.earlier
        among = len(numbers)

        def note(place: int, outcome: Judgement | Failure) -> None:
            if isinstance(outcome, Failure):
                told = f"a worker {outcome.words}. {HELPS[outcome.kind]}"
                outcome = Judgement("undecided", reason=told)
            self.known[numbers[place]], self.by[numbers[place]] = outcome, numbers[place]
            self.watcher.begins(self.circuit.name, "wrong connections", place + 1, among)

        if not can_have_workers():
            for place, number in enumerate(numbers):
                note(place, judged(loaded, self.wrong[number], held, options, earlier))
            return

        def task(number: int) -> Task[Judgement]:
            wrong = self.wrong[number]

            def work() -> Judgement:
                return judged(loaded, wrong, held, options, earlier)

            return Task("wrong connection", work, Judgement)

        usual = Crew()
        crew = Crew(
            options.jobs or default_jobs(),
            options.memory or usual.memory,
            options.patience or usual.patience,
            self.watcher.works,
        )
        ask_all(crew, [task(number) for number in numbers], note)

    def _told(self) -> list[WrongConnectionTold]:
        """Those of one judgement together, worst first, then in the circuit's order."""
        together: dict[int, list[int]] = {}
        for number in sorted(self.known):
            together.setdefault(self.by[number], []).append(number)
        found = []
        for by, numbers in together.items():
            members = tuple(self._member(k) for k in numbers)
            found.append(
                WrongConnectionTold(
                    words=self._member(by).words,
                    told=families(one.words for one in members),
                    members=members,
                    judgement=self.known[by],
                )
            )
        return sorted(found, key=lambda one: rank(one.judgement))

    def _member(self, number: int) -> Member:
        wrong = self.wrong[number]
        return Member(
            wrong_words(self.circuit, wrong),
            "swapped" if isinstance(wrong, Swapped) else "left off",
            tuple(self.circuit.ports[k].name for k in self._ports(wrong)),
        )

    def _ports(self, wrong: WrongConnection) -> tuple[int, ...]:
        """Those that it is at."""
        if isinstance(wrong, Swapped):
            return wrong.ports
        ends = self.circuit.tubes[wrong.tube].ends
        return tuple(k for k, port in enumerate(self.circuit.ports) if port.name in ends)


# ---- what is alike
def _groups(circuit: Circuit, wrong: Sequence[WrongConnection]) -> list[dict[int, frozenset[int]]]:
    """Numbers of wrong connections that symmetries take to each other, the first of each group
    first; for each, the properties that are the same for it and for the first."""
    maps = symmetries(circuit)
    keys = [_key(circuit, one, None) for one in wrong]
    place: dict[Key, int | None] = {}
    for k, key in enumerate(keys):
        place[key] = None if key in place else k
    groups: list[dict[int, frozenset[int]]] = []
    seen: set[int] = set()
    everything = frozenset(range(len(circuit.properties)))
    for first in range(len(wrong)):
        if first in seen:
            continue
        group = {first: everything}
        waiting = [first]
        while waiting:
            here = waiting.pop(0)
            for one in maps:
                there = place.get(_key(circuit, wrong[here], one))
                if there is not None and there not in group:
                    group[there] = group[here] & one.kept
                    waiting.append(there)
        seen.update(group)
        groups.append(group)
    return groups


def _key(circuit: Circuit, wrong: WrongConnection, symmetry: Symmetry | None) -> Key:
    """What a wrong connection is at, once things have changed places."""
    if isinstance(wrong, Swapped):
        ports = wrong.ports
        return ("swapped", frozenset(symmetry.ports[k] if symmetry else k for k in ports), -1)
    tube = circuit.tubes[wrong.tube]
    ends = [k for k, port in enumerate(circuit.ports) if port.name in tube.ends]
    volume = circuit.lines[tube.line].volume
    sort = "to the junction" if JUNCTION in tube.ends else "whole line"
    return (
        sort,
        frozenset(symmetry.ports[k] if symmetry else k for k in ends),
        symmetry.volumes[volume] if symmetry else volume,
    )
