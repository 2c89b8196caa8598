"""From and-inverter graphs to clauses: one frame, or a run of frames that share their latches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.solving.solver import ClauseSolver
from verifier.transition.graph import Graph
from verifier.transition.system import System


class Gates:
    """Conjunctions in a solver, each made once. `true` is a literal fixed to true."""

    def __init__(self, solver: ClauseSolver) -> None:
        self.solver = solver
        self.true = solver.fresh()
        solver.add([self.true])
        self._known: dict[tuple[int, int], int] = {}

    def both(self, a: int, b: int) -> int:
        true = self.true
        if a > b:
            a, b = b, a
        if a == -true or b == -true or a == -b:
            return -true
        if a in (true, b):
            return b
        if b == true:
            return a
        gate = self._known.get((a, b))
        if gate is None:
            gate = self._known[a, b] = self.solver.fresh()
            self.solver.add([-gate, a])
            self.solver.add([-gate, b])
            self.solver.add([gate, -a, -b])
        return gate


class Frame:
    """One moment: solver literals of graph nodes, given those of the inputs.

    An input without a given literal gets a fresh variable when first met.
    """

    def __init__(self, graph: Graph, gates: Gates, given: dict[int, int]) -> None:
        self._graph = graph
        self._gates = gates
        self._values: dict[int, int] = {0: -gates.true, **given}

    def literal(self, literal: int) -> int:
        """Solver literal of a graph literal, its cone encoded as far as it is not yet."""
        node = literal >> 1
        if node not in self._values:
            self._encode(node)
        value = self._values[node]
        return -value if literal & 1 else value

    def known(self, node: int) -> int | None:
        """Solver literal of a node if something encoded it."""
        return self._values.get(node)

    def _encode(self, root: int) -> None:
        values, fanins, gates = self._values, self._graph.fanins, self._gates
        for node in self._missing(root):
            a, b = fanins[node]
            if a < 0:
                values[node] = gates.solver.fresh()
            else:
                left, right = values[a >> 1], values[b >> 1]
                values[node] = gates.both(-left if a & 1 else left, -right if b & 1 else right)

    def _missing(self, root: int) -> list[int]:
        values, fanins = self._values, self._graph.fanins
        seen: set[int] = set()
        stack = [root]
        while stack:
            node = stack.pop()
            if node in seen or node in values:
                continue
            seen.add(node)
            a, b = fanins[node]
            if a >= 0:
                stack += (a >> 1, b >> 1)
        return sorted(seen)


class Unrolling:
    """Runs of a system in a solver: frame t + 1 reads the latches that the step from frame t wrote.

    latches: indices of those that matter; no other latch may lie in the cone of what is asked.
    from_start: frame 0 is the start state; else any state.
    """

    def __init__(
        self,
        system: System,
        solver: ClauseSolver,
        latches: Sequence[int] | None = None,
        from_start: bool = True,
    ) -> None:
        self.system = system
        self.gates = Gates(solver)
        self.latches = tuple(range(len(system.latches))) if latches is None else tuple(latches)
        true = self.gates.true
        given = {
            system.latches[i].node: true if system.latches[i].start else -true for i in self.latches
        }
        self.frames = [Frame(system.graph, self.gates, given if from_start else {})]

    def extend(self, allowed: Iterable[int]) -> None:
        """One more step, which must make the graph literals `allowed` true."""
        last = self.frames[-1]
        for literal in allowed:
            self.gates.solver.add([last.literal(literal)])
        known = [self.system.latches[i] for i in self.latches]
        given = {latch.node: last.literal(latch.next) for latch in known}
        self.frames.append(Frame(self.system.graph, self.gates, given))

    def choices(self) -> tuple[tuple[bool, ...], ...]:
        """The steps of the model just found; choices that nothing depends on are false."""
        solver = self.gates.solver
        rows = []
        for frame in self.frames[:-1]:
            literals = [frame.known(choice.node) for choice in self.system.choices]
            rows.append(tuple(at is not None and solver.value(at) for at in literals))
        return tuple(rows)
