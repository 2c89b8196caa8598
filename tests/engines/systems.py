"""Systems made by hand and by chance, and their truth by exhaustive search."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from verifier.transition.graph import TRUE, Graph
from verifier.transition.system import Choice, Definition, Goal, Latch, System


def system_of(
    graph: Graph,
    latches: Sequence[tuple[int, bool, int]],
    choices: Sequence[int],
    assumptions: Sequence[tuple[str, int]] = (),
    encoding: int = TRUE,
    state_allowed: int = TRUE,
    state_assumptions: Sequence[tuple[str, int]] = (),
) -> System:
    """latches: (literal, start, next literal). A choice is an event, a latch's change a motion."""
    return System(
        graph=graph,
        latches=tuple(
            Latch(graph.names[at >> 1], at >> 1, start, then) for at, start, then in latches
        ),
        choices=tuple(Choice(graph.names[at >> 1], at >> 1) for at in choices),
        step_allowed=graph.all([encoding, *(literal for _, literal in assumptions)]),
        state_allowed=state_allowed,
        definitions=(),
        assumptions=tuple(assumptions),
        encoding=encoding,
        events=tuple(Definition(f"event {graph.names[at >> 1]}", at) for at in choices),
        motions=tuple(
            Definition(f"motion {graph.names[at >> 1]}", graph.same(at, then) ^ 1)
            for at, _, then in latches
        ),
        state_assumptions=tuple(state_assumptions),
        surroundings=tuple(range(0, len(choices), 2)),
    )


def counter(bits: int, top: int | None = None) -> System:
    """Counts up when `go` is chosen; after `top` it starts again from nought."""
    graph = Graph()
    digits = [graph.input(f"digit {i}") for i in range(bits)]
    go = graph.input("go")
    carry, raised = go, []
    for digit in digits:
        raised.append(graph.same(digit, carry) ^ 1)
        carry = graph.both(carry, digit)
    if top is not None:
        full = graph.both(go, equals(graph, digits, top))
        raised = [graph.both(one, full ^ 1) for one in raised]
    return system_of(graph, [(d, False, n) for d, n in zip(digits, raised, strict=True)], [go])


def equals(graph: Graph, digits: Sequence[int], number: int) -> int:
    """The literal that is true when the digits, lowest first, write the number."""
    return graph.all(d ^ (not (number >> i) & 1) for i, d in enumerate(digits))


def random_system(random: Random, latches: int = 6, choices: int = 4) -> tuple[System, list[int]]:
    """A system that keeps the contract of `System`, and some literals over its latches."""
    graph = Graph()
    state = [graph.input(f"latch {i}") for i in range(random.randint(1, latches))]
    free = [graph.input(f"choice {i}") for i in range(random.randint(0, choices))]
    about_state = _formulas(random, graph, state, random.randint(2, 14))
    about_both = _formulas(random, graph, [*state, *free], random.randint(3, 30))
    rows = [
        (at, random.random() < 0.3, random.choice(about_both[-14:]) ^ random.getrandbits(1))
        for at in state
    ]
    goals = [random.choice(about_state[-8:]) ^ random.getrandbits(1) for _ in range(4)]
    goals.append(graph.both(goals[0], goals[1]))
    if random.random() < 0.6:
        for _ in range(6):
            care = random.choice(about_state) ^ random.getrandbits(1)
            extra = random.choice(about_both) ^ random.getrandbits(1)
            kept = graph.substitute([care], {at >> 1: then for at, _, then in rows})[0]
            system = system_of(graph, rows, free, [("care", kept)], extra, care, [("care", care)])
            if keeps_contract(system):
                return system, goals
    return system_of(graph, rows, free), goals


def _formulas(random: Random, graph: Graph, inputs: Sequence[int], count: int) -> list[int]:
    pool = list(inputs)
    for _ in range(count):
        a, b = (random.choice(pool) ^ random.getrandbits(1) for _ in range(2))
        pool.append(random.choice((graph.both, graph.either, graph.same))(a, b))
    return pool


class Truth:
    """Every state and step of a small system. A state is the number whose bit i is latch i."""

    def __init__(self, system: System) -> None:
        self.system = system
        inputs = [latch.node for latch in system.latches] + [c.node for c in system.choices]
        self._size = 1 << len(inputs)
        self._tables = _tables(system.graph, inputs)
        latches, choices = len(system.latches), len(system.choices)
        allowed = self.table(system.step_allowed)
        nexts = [self.table(latch.next) for latch in system.latches]
        self.steps: list[list[int]] = []
        for state in range(1 << latches):
            rows = [state | row << latches for row in range(1 << choices)]
            self.steps.append(
                sorted(
                    {
                        sum((nexts[i] >> row & 1) << i for i in range(latches))
                        for row in rows
                        if allowed >> row & 1
                    }
                )
            )
        self.start = sum(latch.start << i for i, latch in enumerate(system.latches))
        self.distance = self._distances()

    def table(self, literal: int) -> int:
        """Bit r: truth of the literal in row r (latches low, choices high)."""
        table = self._tables[literal >> 1]
        return table ^ ((1 << self._size) - 1) if literal & 1 else table

    def in_state(self, literal: int, state: int) -> bool:
        return bool(self.table(literal) >> state & 1)

    def shortest(self, bad: int) -> int | None:
        """Length of the shortest run into `bad`; None if there is none."""
        found = [d for state, d in self.distance.items() if self.in_state(bad, state)]
        return min(found, default=None)

    def _distances(self) -> dict[int, int]:
        distance, border = {self.start: 0}, [self.start]
        while border:
            state = border.pop(0)
            for after in self.steps[state]:
                if after not in distance:
                    distance[after] = distance[state] + 1
                    border.append(after)
        return distance


def keeps_contract(system: System) -> bool:
    """Start allowed; allowed states have a step, and steps lead from them to allowed ones."""
    truth = Truth(system)
    allowed = [truth.in_state(system.state_allowed, s) for s in range(len(truth.steps))]
    return allowed[truth.start] and all(
        after and all(allowed[one] for one in after)
        for state, after in enumerate(truth.steps)
        if allowed[state]
    )


def goals_of(literals: Sequence[int]) -> list[Goal]:
    return [Goal(f"goal {i}", literal) for i, literal in enumerate(literals)]


def _tables(graph: Graph, inputs: Sequence[int]) -> list[int]:
    """For each node the number whose bit r is its truth when input i has bit i of r."""
    size = 1 << len(inputs)
    every = (1 << size) - 1
    tables = [0] * len(graph.fanins)
    for i, node in enumerate(inputs):
        low = (1 << (1 << i)) - 1
        block = low << (1 << i)
        tables[node] = sum(block << at for at in range(0, size, 2 << i))
    for node, (a, b) in enumerate(graph.fanins):
        if a >= 0:
            left, right = (tables[one >> 1] ^ (every if one & 1 else 0) for one in (a, b))
            tables[node] = left & right
    return tables
