"""Bounded search for a run into a loop in which the circuit stays for ever without rest.

The conditions on the loop are those of *comes to rest*: hands and surroundings still, no state at
rest, every element moves in it or need not move somewhere in it, and readings are steady.
"""

from __future__ import annotations

from msgspec import Struct, structs

from verifier.engines.engine import Budget
from verifier.engines.walk import Choices, EngineError, walk
from verifier.solving.answer import Answer
from verifier.solving.cnf import Unrolling
from verifier.solving.sat_door import SatSolver
from verifier.transition.compiled import Compiled
from verifier.transition.graph import FALSE
from verifier.transition.selection import Selection
from verifier.transition.system import Reached


class Loops(Struct, frozen=True):
    """Claimed: a run whose states from number `loop_from` on come round to the same state again."""

    reached: Reached
    loop_from: int


def find_loop(compiled: Compiled, budget: Budget) -> Loops | None:
    """A loop of a shortest such run, or None within the budget."""
    search = _Search(compiled)
    for _ in range(budget.depth):
        search.deeper()
        answer = search.ask(budget.conflicts)
        if answer is Answer.SAT:
            return search.found()
        if answer is Answer.UNKNOWN:
            return None
    return None


class _Search:
    """`_inside[t + 1]`: solver literal, state t is in the loop. `_saved`: where it begins."""

    def __init__(self, compiled: Compiled) -> None:
        self._compiled = compiled
        self._solver = SatSolver()
        self._terms = _Terms(compiled)
        system = structs.replace(compiled.system, graph=self._terms.graph)
        self._system = system
        self._run = Unrolling(system, self._solver)
        self._saved = [self._solver.fresh() for _ in self._terms.state]
        self._saved_readings = [self._solver.fresh() for _ in self._terms.free]
        false = -self._run.gates.true
        self._inside = [false]
        self._fair = [false] * len(self._terms.fair)
        self._begin(0)

    def _begin(self, moment: int) -> None:
        """The loop may begin at this state."""
        solver, frame = self._solver, self._run.frames[moment]
        begins, inside = solver.fresh(), solver.fresh()
        before = self._inside[-1]
        solver.add([-inside, before, begins])
        solver.add([-before, inside])
        solver.add([-begins, inside])
        pairs = [
            *zip(self._saved, self._terms.state, strict=True),
            *zip(self._saved_readings, self._terms.free, strict=True),
        ]
        for saved, literal in pairs:
            now = frame.literal(literal)
            solver.add([-begins, -saved, now])
            solver.add([-begins, saved, -now])
        self._inside.append(inside)

    def deeper(self) -> None:
        """One more step, by the rules of the loop if it is inside."""
        solver, frame, inside = self._solver, self._run.frames[-1], self._inside[-1]
        for literal in self._terms.rules:
            solver.add([-inside, frame.literal(literal)])
        for index, literal in enumerate(self._terms.fair):
            fair = solver.fresh()
            solver.add([-fair, self._fair[index], inside])
            solver.add([-fair, self._fair[index], frame.literal(literal)])
            self._fair[index] = fair
        self._run.extend([self._system.step_allowed])
        after = self._run.frames[-1]
        for free, contested in zip(self._terms.free, self._terms.contested, strict=True):
            lasts = [-inside, -frame.literal(contested), -after.literal(contested)]
            now, then = frame.literal(free), after.literal(free)
            solver.add([*lasts, -now, then])
            solver.add([*lasts, now, -then])
        self._begin(len(self._run.frames) - 1)

    def ask(self, conflicts: int) -> Answer:
        """Can the last state close a loop?"""
        solver, frame = self._solver, self._run.frames[-1]
        closed = solver.fresh()
        solver.add([-closed, self._inside[-2]])
        for saved, literal in zip(self._saved, self._terms.state, strict=True):
            now = frame.literal(literal)
            solver.add([-closed, -saved, now])
            solver.add([-closed, saved, -now])
        for saved, free, contested in zip(
            self._saved_readings, self._terms.free, self._terms.contested, strict=True
        ):
            now, either = frame.literal(free), frame.literal(contested)
            solver.add([-closed, -either, -saved, now])
            solver.add([-closed, -either, saved, -now])
        return solver.solve([closed, *self._fair], conflicts - solver.work)

    def found(self) -> Loops:
        rows: tuple[Choices, ...] = self._run.choices()
        states = walk(self._compiled.system, rows)
        if states is None:
            raise EngineError("a loop was found whose steps are not allowed")
        # The first entry stands for "not yet begun".
        first = next(t for t, at in enumerate(self._inside[1:]) if self._solver.value(at))
        return Loops(Reached("comes to rest", tuple(states), rows, True, "loops"), first)


class _Terms:
    """Literals on a copy of the system's graph.

    state: what must be the same for two moments to be of the same state.
    free, contested: of each reading, what it finds when it may find either, and whether it may.
    rules: of a step of the loop.   fair: of each element, it moves in this step or need not.
    """

    def __init__(self, compiled: Compiled) -> None:
        self._compiled = compiled
        self.graph = graph = compiled.system.graph.copy()
        meaning = compiled.meaning.on(graph)
        self._encoding = meaning.encoding
        self._selection = Selection(compiled, meaning)
        self._latches = compiled.system.latches
        self.free: list[int] = []
        self.contested: list[int] = []
        self.rules: list[int] = [compiled.at_rest ^ 1, self._stillness()]
        self.fair: list[int] = []
        self.state = self._state()
        for element in range(len(compiled.circuit.elements)):
            self._add_element(element)

    def _stillness(self) -> int:
        """No hand acts, no hand or switch changes."""
        graph = self.graph
        codes = [i for code in self._compiled.switch_codes for i in code]
        latches = [self._latches[i] for i in (*self._compiled.hand_latches.values(), *codes)]
        kept = [graph.same(2 * latch.node, latch.next) for latch in latches]
        return graph.all([*kept, *(2 * node ^ 1 for node in self._encoding.acting.values())])

    def _state(self) -> list[int]:
        compiled, encoding = self._compiled, self._encoding
        bits = [
            encoding.beyond(e, k)
            for e, element in enumerate(compiled.circuit.elements)
            for k in range(1, len(element.positions))
        ]
        bits += [2 * self._latches[i].node for i in compiled.hand_latches.values()]
        bits += [2 * self._latches[i].node for code in compiled.switch_codes for i in code]
        for volume, latch in compiled.memory_latches.items():
            bits.append(self.graph.both(2 * self._latches[latch].node, compiled.trapped[volume]))
        return bits

    def _add_element(self, element: int) -> None:
        """Its moves go where its readings point."""
        graph, encoding, compiled = self.graph, self._encoding, self._compiled
        seen = {}
        for key in self._selection.readers(element):
            free = graph.input(f"{key[0]} reads high")
            seen[key] = self._selection.reading(key, free)
            self.free.append(free)
            self.contested.append(graph.both(compiled.high[key[1]], compiled.low[key[1]]))
        nexts = {
            self._latches[i].node: self._latches[i].next for i in compiled.element_codes[element]
        }
        moves = FALSE
        for j in range(1, len(compiled.circuit.elements[element].positions)):
            now = encoding.beyond(element, j)
            then = graph.substitute([now], nexts)[0]
            rises, falls = graph.both(now ^ 1, then), graph.both(now, then ^ 1)
            moves = graph.any([moves, rises, falls])
            up = self._selection.beyond(element, seen, j)
            down = self._selection.below(element, seen, j)
            self.rules += [graph.either(rises ^ 1, up), graph.either(falls ^ 1, down)]
        self.fair.append(graph.either(moves, compiled.must_move[element] ^ 1))
