"""What conditions may speak of: the invariants of `verifier.model.circuit` for them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.model.circuit import Circuit
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    Condition,
    Hand,
    High,
    Not,
    Path,
    Setting,
)
from verifier.model.simplify import Atom, atoms


class Problems:
    """Violated invariants, in words."""

    def __init__(self) -> None:
        self.found: list[str] = []

    def need(self, holds: bool, told: str) -> None:
        if not holds:
            self.found.append(told)

    def index(self, value: int | None, of: Sequence[object], told: str) -> bool:
        if value is None:
            return False
        if 0 <= value < len(of):
            return True
        self.found.append(f"{told}: index {value} is not in 0..{len(of) - 1}")
        return False

    def unique(self, names: Iterable[str], what: str) -> None:
        seen: set[str] = set()
        for name in names:
            if name in seen:
                self.found.append(f"{what} `{name}` is there twice")
            seen.add(name)


def choices(chosen: tuple[int, ...], of: Sequence[str], told: str, problems: Problems) -> None:
    problems.need(bool(chosen), f"{told}: a choice of nothing")
    problems.need(list(chosen) == sorted(set(chosen)), f"{told}: choices are sorted, each once")
    for one in chosen:
        problems.index(one, of, f"{told}: choice")


class Speech:
    """Checks the conditions of one statement; each that is part of several is checked once.

    momentary: they speak of a momentary hand.   surroundings: of hands, switches and faults only.
    """

    def __init__(self, circuit: Circuit, problems: Problems, told: str) -> None:
        self.momentary = False
        self.surroundings = True
        self._circuit = circuit
        self._problems = problems
        self._told = told
        self._seen: set[int] = set()
        self._readers: dict[str, int] = {}
        self._unlike = False

    def check(self, cases: Sequence[Sequence[Condition]]) -> None:
        """Each case is of conditions that belong together: in them a reading is of one volume.

        The conditions must live as long as this does.
        """
        for case in cases:
            for condition in case:
                if id(condition) not in self._seen:
                    self._visit(condition)
        if self._unlike:  # perhaps in different cases, which is no mistake
            for case in cases:
                self._agree(case)

    def _visit(self, condition: Condition) -> None:
        self._seen.add(id(condition))
        if isinstance(condition, Not):
            self._visit(condition.of)
        elif isinstance(condition, All | Any):
            seen = self._seen
            for part in condition.of:
                if id(part) not in seen:
                    self._visit(part)
        elif not isinstance(condition, Always):
            self._atom(condition)

    def _agree(self, case: Sequence[Condition]) -> None:
        readers: dict[str, int] = {}
        for atom in atoms(All(tuple(case))):
            if isinstance(atom, High):
                same = readers.setdefault(atom.reader, atom.volume) == atom.volume
                told = f"{self._told}: reader `{atom.reader}` reads two volumes"
                self._problems.need(same, told)

    def _atom(self, atom: Atom) -> None:
        circuit, problems, told = self._circuit, self._problems, self._told
        if isinstance(atom, Hand):
            if problems.index(atom.hand, circuit.hands, told) and not circuit.hands[atom.hand].held:
                self.momentary = True
            return
        if isinstance(atom, Setting):
            if problems.index(atom.switch, circuit.switches, told):
                choices(atom.values, circuit.switches[atom.switch].values, told, problems)
            return
        if isinstance(atom, At):
            if problems.index(atom.element, circuit.elements, told):
                element = circuit.elements[atom.element]
                choices(atom.positions, element.positions, told, problems)
                self.surroundings = self.surroundings and element.fault
            return
        self.surroundings = False
        if isinstance(atom, High):
            problems.index(atom.volume, circuit.volumes, told)
            if self._readers.setdefault(atom.reader, atom.volume) != atom.volume:
                self._unlike = True
        elif isinstance(atom, Path) and problems.index(atom.network, circuit.networks, told):
            places = circuit.networks[atom.network].places
            problems.index(atom.start, places, told)
            problems.index(atom.end, places, told)
