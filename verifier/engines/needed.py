"""Which items of a core are needed whatever the proof: without one of them, a run of the loosened
system breaks a goal although all others are kept (rule Q13).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from msgspec import Struct

from verifier.engines.core import Claimed, Item
from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.loosening import Duty

PATIENCE = 8
"""Steps that runs grow without showing anything before the search is given up."""


class Spoilt(Struct, frozen=True):
    """A run that breaks a goal of a claim although all of a core but one item is kept. A claim
    only: evidence checks it.

    claim: its number.   moments: the inputs that are true at each moment, the state's among them,
    as node numbers of the graph; it ends in a state in which a goal is met.
    """

    claim: int
    moments: tuple[frozenset[int], ...]


def asked_of(items: Collection[Item]) -> list[Item]:
    """Those of which it is asked whether they can go: what works is not asked whether it is tight.
    In an order that depends on nothing else."""
    duties = sorted(item for item in items if isinstance(item, Duty))
    assumptions = sorted(item for item in items if isinstance(item, str))
    return [*assumptions, *(d for d in duties if d.what == "works" or d.working not in items)]


def needed(
    claims: Sequence[Claimed], items: Collection[Item], conflicts: int, depth: int
) -> tuple[dict[Item, Spoilt], int]:
    """Runs by the item that is missing, those with fewest steps; and up to how many steps no other
    item has one, at most `depth` (-1: nothing was looked at)."""
    found: dict[Item, Spoilt] = {}
    left, last = conflicts, 0
    asked = asked_of(items)
    searches = [_Search(number, claim, items) for number, claim in enumerate(claims)]
    try:
        for steps in range(depth + 1):
            known = len(found)
            for search in searches:
                waiting = [item for item in asked if item not in found]
                left = search.look(waiting, found, left)
                if left <= 0:
                    return found, steps - 1
            if len(found) > known:
                last = steps
            if len(found) == len(asked) or steps - last == PATIENCE:
                return found, steps
            for search in searches:
                search.deeper()
    finally:
        for search in searches:
            search.close()
    return found, depth


class _Search:
    """One claim, run by run; frames share the literals of what is kept."""

    def __init__(self, number: int, claim: Claimed, items: Collection[Item]) -> None:
        self._number = number
        self._claim = claim
        self._solver = SatSolver()
        self._gates = Gates(self._solver)
        true, system = self._gates.true, claim.system
        self._kept = {node: self._solver.fresh() for node in claim.keeps.values()}
        self._mark: dict[Item, int] = {item: self._kept[n] for item, n in claim.keeps.items()}
        for name, _ in system.assumptions:
            self._mark[name] = self._solver.fresh()
        self._marks = {item: mark for item, mark in self._mark.items() if item in items}
        self._frames: list[Frame] = []
        self._open({latch.node: true if latch.start else -true for latch in system.latches})

    def close(self) -> None:
        self._solver.close()

    def look(self, waiting: list[Item], found: dict[Item, Spoilt], left: int) -> int:
        """Adds those of the waiting whose absence lets a run of this length break a goal; what is
        left of the budget."""
        frame, solver = self._frames[-1], self._solver
        met = solver.fresh()
        solver.add([-met, *(frame.literal(goal.bad) for goal in self._claim.goals)])
        waiting = [item for item in waiting if item in self._marks]
        while waiting and left > 0:
            item, *waiting = waiting
            kept = [mark for other, mark in self._marks.items() if other != item]
            before = solver.work
            answer = solver.solve([met, *sorted(kept)], left)
            left -= solver.work - before
            if answer is Answer.SAT:
                found[item] = Spoilt(self._number, tuple(map(self._true, self._frames)))
            elif answer is Answer.UNSAT:
                blamed = set(solver.core())
                waiting = [other for other in waiting if self._marks[other] in blamed]
        return left

    def deeper(self) -> None:
        """One step more, of which all assumptions that are kept are true."""
        system, last = self._claim.system, self._frames[-1]
        self._solver.add([last.literal(system.encoding)])
        for name, step in system.assumptions:
            self._solver.add([-self._mark[name], last.literal(step)])
        self._open({latch.node: last.literal(latch.next) for latch in system.latches})

    def _open(self, latches: Mapping[int, int]) -> None:
        """A frame whose state all assumptions that are kept allow."""
        system = self._claim.system
        frame = Frame(system.graph, self._gates, {**self._kept, **latches})
        for name, state in system.state_assumptions:
            self._solver.add([-self._mark[name], frame.literal(state)])
        self._frames.append(frame)

    def _true(self, frame: Frame) -> frozenset[int]:
        graph = self._claim.system.graph
        known = ((node, frame.known(node)) for node in graph.names)
        return frozenset(n for n, v in known if v is not None and self._solver.value(v))
