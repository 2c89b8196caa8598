"""Goals that are out of reach because all of them together are: the conjunction of "not this goal"
is inductive as it stands."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.distances import NEVER, Distances
from verifier.engines.relation import Allowance
from verifier.engines.slice import Slice, slice_of
from verifier.engines.trim import trim
from verifier.solving.answer import Answer
from verifier.solving.cnf import Following, Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Lemma, System


class Together:
    """One step between states in which no goal is true, for goals (graph literals) that are false
    at the start. Lemmas: latches that never leave their start value, by their distances.
    """

    def __init__(
        self, system: System, goals: Sequence[int], distances: Distances, allowance: Allowance
    ) -> None:
        self._system = system
        self._allowance = allowance
        self._solver = solver = SatSolver()
        self.part: Slice = slice_of(system, goals)
        self.goals = list(goals)
        gates = Gates(solver)
        self._now = Frame(system.graph, gates, {})
        self._then = Following(system, gates, self._now)
        for literal in (*self.part.step_allowed, *self.part.state_allowed):
            solver.add([self._now.literal(literal)])
        self.units = units(system, self.part, distances)
        for ((latch, sign),) in self.units:
            node = system.latches[latch].node
            solver.add([self._now.literal(2 * node ^ (not sign))])
        self._bad_then = {bad: self._then.literal(bad) for bad in self.goals}
        self._every = solver.fresh()
        for bad in self.goals:
            solver.add([-self._every, -self._now.literal(bad)])
        self._switches: dict[int, int] = {}

    def inductive(self) -> bool:
        """Does no step lead from states without any goal to a goal?"""
        broken = self._broken(self.goals)
        return self._allowance.ask(self._solver, [self._every, broken]) is Answer.UNSAT

    def settle(self, goals: Sequence[int], rounds: int) -> list[int]:
        """The largest set of these goals for which this is so, found by leaving out what some step
        breaks; none if so many rounds do not find it."""
        solver = self._solver
        left = list(goals)
        self._switches = {bad: solver.fresh() for bad in left}
        for bad, switch in self._switches.items():
            solver.add([-switch, -self._now.literal(bad)])
        for _ in range(rounds):
            if not left:
                return []
            switches = [self._switches[bad] for bad in left]
            if self._allowance.ask(solver, [self._broken(left), *switches]) is Answer.UNSAT:
                return left
            left = [bad for bad in left if not solver.value(self._bad_then[bad])]
        return []

    def lemmas(self, goals: Sequence[int]) -> tuple[Lemma, ...]:
        """What goals that are out of reach together need besides."""
        return trim(self._system, self.part, self.units, kept=[bad ^ 1 for bad in goals])

    def close(self) -> None:
        self._solver.close()

    def _broken(self, goals: Sequence[int]) -> int:
        broken = self._solver.fresh()
        self._solver.add([-broken, *(self._bad_then[bad] for bad in goals)])
        return broken


def out_of_sight(system: System, goals: Sequence[int], distances: Distances) -> tuple[Lemma, ...]:
    """Lemmas that exclude goals which have no distance."""
    part = slice_of(system, goals)
    return trim(system, part, units(system, part, distances), goals)


def units(system: System, part: Slice, distances: Distances) -> tuple[Lemma, ...]:
    """The latches of the slice that never leave their start value."""
    found: list[Lemma] = []
    for i in part.latches:
        latch = system.latches[i]
        # What has no distance at all is not known.
        starts = 2 * latch.node ^ (not latch.start)
        if distances.of(starts) == 0 and distances.of(starts ^ 1) == NEVER:
            found.append(((i, latch.start),))
    return tuple(found)
