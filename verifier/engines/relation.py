"""One step of a system in a SAT solver, as property-directed search asks about it."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.slice import Slice
from verifier.engines.walk import Choices, EngineError
from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import System

Cube = tuple[int, ...]
"""A conjunction over latches, ascending by latch: latch i true as i + 1, false as -(i + 1)."""


class Exhausted(Exception):
    """The budget ran out."""


class _Step:
    """Solver literals of the latches, their next values and the choices of a slice.

    An allowance of work is counted down; passing it raises Exhausted.
    """

    def __init__(self, system: System, part: Slice, work: int) -> None:
        self._system = system
        self._solver = SatSolver()
        self._gates = Gates(self._solver)
        self._work = work
        self._frame = Frame(system.graph, self._gates, {})
        latches = system.latches
        self._latches = part.latches
        self._now = {i + 1: self.now(2 * latches[i].node) for i in part.latches}
        self._next = {i + 1: self.now(latches[i].next) for i in part.latches}

    def close(self) -> None:
        self._solver.close()

    def work_left(self) -> int:
        return self._work - self._solver.work

    def now(self, literal: int) -> int:
        """Solver literal of a graph literal."""
        return self._frame.literal(literal)

    def _ask(self, assumptions: Sequence[int]) -> Answer:
        answer = self._solver.solve(assumptions, self.work_left())
        if answer is Answer.UNKNOWN:
            raise Exhausted
        return answer

    def _here(self, literal: int) -> int:
        return self._now[literal] if literal > 0 else -self._now[-literal]

    def _there(self, literal: int) -> int:
        return self._next[literal] if literal > 0 else -self._next[-literal]

    def _known_choices(self) -> list[tuple[int, int]]:
        """Index and solver literal of each choice that the slice depends on."""
        found = []
        for index, choice in enumerate(self._system.choices):
            at = self._frame.known(choice.node)
            if at is not None:
                found.append((index, at))
        return found


class Relation(_Step):
    """Allowed steps from allowed states that satisfy the clauses of a frame.

    Frame k is switched on by assuming the activation literals of all levels from k up; level 0
    holds the start.
    """

    def __init__(self, system: System, part: Slice, work: int) -> None:
        super().__init__(system, part, work)
        for literal in (*part.step_allowed, *part.state_allowed):
            self._solver.add([self.now(literal)])
        self._choices = self._known_choices()
        self._levels = [self._solver.fresh()]
        for i in part.latches:
            self._solver.add([-self._levels[0], self._here(i + 1 if self._starts(i) else -(i + 1))])
        self.dead = 0

    def _starts(self, latch: int) -> bool:
        return self._system.latches[latch].start

    def possible(self, level: int, demands: Sequence[int]) -> bool:
        """Does a state of the frame meet the demands (solver literals)? `state` is then one."""
        return self._ask([*demands, *self._active(level)]) is Answer.SAT

    def block(self, cube: Cube, level: int) -> None:
        """Exclude the cube from the frames up to `level`."""
        self._active(level)
        self._solver.add([-self._levels[level], *(-self._here(one) for one in cube)])

    def enters(self, cube: Cube, level: int) -> Cube | None:
        """None if a step leads from the frame, outside the cube, into it (`state` and `choices`
        then tell which); else a part of the cube that no such step leads into."""
        outside = self._solver.fresh()
        self._solver.add([-outside, *(-self._here(one) for one in cube)])
        there = [self._there(one) for one in cube]
        answer = self._ask([outside, *there, *self._active(level)])
        # Retire the clause for good; it must not weigh on later questions.
        self._solver.add([-outside])
        self.dead += 1
        if answer is Answer.SAT:
            return None
        core = set(self._solver.core())
        found: list[int] = []
        for one, literal in zip(cube, there, strict=True):
            if literal in core:
                found.append(one)
                # Latches that take the same next value share a literal; one of them is enough.
                core.discard(literal)
        return tuple(found)

    def state(self) -> Cube:
        """The state that the last SAT answer is about, as a cube over all latches of the slice."""
        value = self._solver.value
        return tuple(one if value(at) else -one for one, at in self._now.items())

    def choices(self) -> Choices:
        """The step that the last SAT answer is about; choices outside the slice are false."""
        row = [False] * len(self._system.choices)
        for index, at in self._choices:
            row[index] = self._solver.value(at)
        return tuple(row)

    def _active(self, level: int) -> list[int]:
        while len(self._levels) <= level:
            self._levels.append(self._solver.fresh())
        return self._levels[level:]


class Lifter(_Step):
    """Widens a state to all states of which the same is true for the same reason."""

    def __init__(self, system: System, part: Slice, work: int) -> None:
        super().__init__(system, part, work)
        # Unlike in `Relation`, being allowed is here a thing to be shown.
        self._allowed = [self.now(literal) for literal in part.step_allowed]
        self._choices = self._known_choices()

    def lift(self, state: Cube, choices: Choices, cube: Cube) -> Cube:
        """Part of `state` from which the step `choices` is allowed and leads into `cube`."""
        given = [at if choices[index] else -at for index, at in self._choices]
        return self._widen(state, given, [*self._allowed, *map(self._there, cube)])

    def lift_bad(self, state: Cube, bad: int) -> Cube:
        """Part of `state` in which the graph literal `bad` is true."""
        return self._widen(state, [], [self.now(bad)])

    def _widen(self, state: Cube, given: Sequence[int], shown: Sequence[int]) -> Cube:
        fails = self._solver.fresh()
        self._solver.add([-fails, *(-literal for literal in shown)])
        here = [self._here(one) for one in state]
        answer = self._ask([fails, *given, *here])
        self._solver.add([-fails])
        if answer is not Answer.UNSAT:
            raise EngineError("a step that was just found is not there")
        core = set(self._solver.core())
        return tuple(one for one, at in zip(state, here, strict=True) if at in core)
