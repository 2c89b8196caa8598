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


class Allowance:
    """Solver work that may still be spent; shared by all who work on one question."""

    def __init__(self, work: int) -> None:
        self.left = work

    def ask(self, solver: SatSolver, assumptions: Sequence[int], most: int | None = None) -> Answer:
        """The solver's answer, paid for; UNKNOWN after more than `most` conflicts. Raises Exhausted
        when the allowance does not last."""
        before, all_left = solver.work, self.left
        limit = all_left if most is None else min(most, all_left)
        answer = solver.solve(assumptions, limit)
        self.left -= solver.work - before
        if answer is Answer.UNKNOWN and limit == all_left:
            raise Exhausted
        return answer


class _Step:
    """Solver literals of latches, their next values and choices, each encoded when first needed:
    a question pays for no more of the circuit than was asked about before it."""

    def __init__(self, system: System, allowance: Allowance) -> None:
        self._system = system
        self._solver = SatSolver()
        self._gates = Gates(self._solver)
        self._allowance = allowance
        self._frame = Frame(system.graph, self._gates, {})
        self._next: dict[int, int] = {}

    @property
    def effort(self) -> int:
        return self._solver.effort

    def close(self) -> None:
        self._solver.close()

    def now(self, literal: int) -> int:
        """Solver literal of a graph literal."""
        return self._frame.literal(literal)

    def _ask(self, assumptions: Sequence[int]) -> Answer:
        return self._allowance.ask(self._solver, assumptions)

    def _here(self, literal: int) -> int:
        at = self.now(2 * self._system.latches[abs(literal) - 1].node)
        return at if literal > 0 else -at

    def _there(self, literal: int) -> int:
        latch = abs(literal) - 1
        at = self._next.get(latch)
        if at is None:
            at = self._next[latch] = self.now(self._system.latches[latch].next)
        return at if literal > 0 else -at

    def _known(self, nodes: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
        """Of some (index, node) the index and solver literal of each node that is encoded."""
        found = ((index, self._frame.known(node)) for index, node in nodes)
        return [(index, at) for index, at in found if at is not None]


class Relation(_Step):
    """Allowed steps from allowed states that satisfy the clauses of a frame.

    Frame k is switched on by the literal of level k, which brings those of the levels above with
    it. Level 0 is the start. assumed: graph literals that are true in every state considered.
    """

    def __init__(
        self, system: System, part: Slice, allowance: Allowance, assumed: Sequence[int] = ()
    ) -> None:
        super().__init__(system, allowance)
        for literal in (*part.step_allowed, *part.state_allowed, *assumed):
            self._solver.add([self.now(literal)])
        self._latch_nodes = [(i + 1, system.latches[i].node) for i in part.latches]
        self._choice_nodes = [(i, choice.node) for i, choice in enumerate(system.choices)]
        self._levels: list[int] = []
        self.dead = 0

    def possible(self, level: int, demands: Sequence[int]) -> bool:
        """Does a state of the frame meet the demands (solver literals)? `state` is then one."""
        return self._ask([*demands, *self._active(level)]) is Answer.SAT

    def one_of(self, literals: Sequence[int]) -> int:
        """A solver literal that demands one of the graph literals."""
        demand = self._solver.fresh()
        self._solver.add([-demand, *map(self.now, literals)])
        return demand

    def true(self, literal: int) -> bool:
        """Truth of a graph literal in the state that the last SAT answer is about."""
        return self._solver.value(self.now(literal))

    def block(self, cube: Cube, level: int) -> None:
        """Exclude the cube from the frames up to `level`."""
        self._solver.add([-self._level(level), *(-self._here(one) for one in cube)])

    def exclude(self, cube: Cube) -> None:
        """Exclude the cube from every frame; the start is outside it."""
        self._solver.add([-self._here(one) for one in cube])

    def enters(self, cube: Cube, level: int) -> Cube | None:
        """None if a step leads from the frame, outside the cube, into it (`state` and `choices`
        then tell which); else a part of the cube that no such step leads into. The start is outside
        the cube."""
        there = [self._there(one) for one in cube]
        demands = there
        if level:
            outside = self._solver.fresh()
            self._solver.add([-outside, *(-self._here(one) for one in cube)])
            demands = [outside, *there]
        answer = self._ask([*demands, *self._active(level)])
        if level:
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
        """The state that the last SAT answer is about, as a cube over the latches that matter."""
        value = self._solver.value
        return tuple(one if value(at) else -one for one, at in self._known(self._latch_nodes))

    def choices(self) -> Choices:
        """The step that the last SAT answer is about; choices that do not matter are false."""
        row = [False] * len(self._system.choices)
        for index, at in self._known(self._choice_nodes):
            row[index] = self._solver.value(at)
        return tuple(row)

    def _active(self, level: int) -> list[int]:
        if level:
            return [self._level(level)]
        latches = self._system.latches
        return [at if latches[one - 1].start else -at for one, at in self._known(self._latch_nodes)]

    def _level(self, level: int) -> int:
        while len(self._levels) <= level:
            self._levels.append(self._solver.fresh())
            if len(self._levels) > 1:
                self._solver.add([-self._levels[-2], self._levels[-1]])
        return self._levels[level]


class Lifter(_Step):
    """Widens a state to all states of which the same is true for the same reason."""

    def __init__(self, system: System, part: Slice, allowance: Allowance) -> None:
        super().__init__(system, allowance)
        # Unlike in `Relation`, being allowed is here a thing to be shown.
        self._allowed = [self.now(literal) for literal in part.step_allowed]
        self._choice_nodes = [(i, choice.node) for i, choice in enumerate(system.choices)]

    def lift(self, state: Cube, choices: Choices, cube: Cube) -> Cube:
        """Part of `state` from which the step `choices` is allowed and leads into `cube`."""
        shown = [*self._allowed, *map(self._there, cube)]
        known = self._known(self._choice_nodes)
        return self._widen(state, [at if choices[i] else -at for i, at in known], shown)

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
