"""From and-inverter graphs to clauses: one frame, or a run of frames that share their latches."""

from __future__ import annotations

from collections.abc import Callable, Iterable

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
        for node in self._missing([root]):
            self._make(node)

    def _make(self, node: int) -> None:
        """Encode a node whose fanins are encoded."""
        values = self._values
        a, b = self._graph.fanins[node]
        if a < 0:
            values[node] = self._gates.solver.fresh()
        else:
            left, right = values[a >> 1], values[b >> 1]
            values[node] = self._gates.both(-left if a & 1 else left, -right if b & 1 else right)

    def _missing(self, roots: Iterable[int]) -> list[int]:
        """Nodes of the cones of some nodes that are not encoded, ascending."""
        values, fanins = self._values, self._graph.fanins
        seen: set[int] = set()
        stack = list(roots)
        while stack:
            node = stack.pop()
            if node in seen or node in values:
                continue
            seen.add(node)
            a, b = fanins[node]
            if a >= 0:
                stack += (a >> 1, b >> 1)
        return sorted(seen)


class Following(Frame):
    """The moment after a step; the next value of a latch is encoded when it is needed."""

    def __init__(self, system: System, gates: Gates, now: Frame) -> None:
        super().__init__(system.graph, gates, {})
        self._nexts = {latch.node: latch.next for latch in system.latches}
        self._now = now

    def _make(self, node: int) -> None:
        if node in self._nexts:
            self._values[node] = self._now.literal(self._nexts[node])
        else:
            super()._make(node)


class _Moment(Frame):
    """A frame of a run: what it has of the frame before is encoded there when it is needed."""

    def __init__(self, run: Unrolling, index: int) -> None:
        super().__init__(run.system.graph, run.gates, {})
        self._run = run
        self._index = index

    def _encode(self, root: int) -> None:
        self._run.encode(self._index, root)

    def need(self, roots: Iterable[int]) -> tuple[list[int], list[int]]:
        """Nodes to encode for the roots, ascending, and the nodes that the latches among them need
        of the frame before. What can only be true, or only false, at this moment is set so."""
        values, fanins = self._values, self._graph.fanins
        soonest, true, index = self._run.soonest, self._gates.true, self._index
        nexts = self._run.nexts
        seen: set[int] = set()
        before: list[int] = []
        stack = list(roots)
        while stack:
            node = stack.pop()
            if node in seen or node in values:
                continue
            if soonest is not None:
                # What is told about neither value is not known.
                is_true, is_false = soonest(2 * node) <= index, soonest(2 * node + 1) <= index
                if is_true != is_false:
                    values[node] = true if is_true else -true
                    continue
            seen.add(node)
            a, b = fanins[node]
            if a >= 0:
                stack += (a >> 1, b >> 1)
            elif index and node in nexts:
                before.append(nexts[node] >> 1)
        return sorted(seen), before

    def make(self, nodes: Iterable[int]) -> None:
        """Encode nodes in their order; what they have of the frame before is encoded."""
        run, values, index = self._run, self._values, self._index
        for node in nodes:
            following = run.nexts.get(node)
            if following is None:
                self._make(node)
            elif index:
                values[node] = run.frames[index - 1].literal(following)
            elif run.from_start:
                values[node] = self._gates.true if node in run.starts else -self._gates.true
            else:
                self._make(node)


class Unrolling:
    """Runs of a system in a solver: frame t + 1 reads the latches that the step from frame t wrote.
    Only what is asked about, and what that depends on, is encoded.

    from_start: frame 0 is the start state; else any state.
    soonest: for a graph literal a number of steps from the start before which it is never true.
    """

    def __init__(
        self,
        system: System,
        solver: ClauseSolver,
        *,
        from_start: bool = True,
        soonest: Callable[[int], int] | None = None,
    ) -> None:
        self.system = system
        self.gates = Gates(solver)
        self.from_start = from_start
        self.soonest = soonest
        self.nexts = {latch.node: latch.next for latch in system.latches}
        self.starts = {latch.node for latch in system.latches if latch.start}
        self.frames = [_Moment(self, 0)]

    def extend(self, allowed: Iterable[int]) -> None:
        """One more step, which must make the graph literals `allowed` true."""
        last = self.frames[-1]
        for literal in allowed:
            self.gates.solver.add([last.literal(literal)])
        self.frames.append(_Moment(self, len(self.frames)))

    def encode(self, index: int, root: int) -> None:
        """Encode a node of a frame, and of the frames before it what it depends on."""
        roots = [root]
        waiting: list[tuple[int, list[int]]] = []
        while roots:
            nodes, roots = self.frames[index].need(roots)
            waiting.append((index, nodes))
            index -= 1
        for at, nodes in reversed(waiting):
            self.frames[at].make(nodes)

    def choices(self) -> tuple[tuple[bool, ...], ...]:
        """The steps of the model just found; choices that nothing depends on are false."""
        solver = self.gates.solver
        rows = []
        for frame in self.frames[:-1]:
            literals = [frame.known(choice.node) for choice in self.system.choices]
            rows.append(tuple(at is not None and solver.value(at) for at in literals))
        return tuple(rows)
