"""Two copies of a circuit side by side under the same hands and surroundings, one of them sound.

The circuit is one with faults woven in; in the second copy none of them strikes. Hands and
surroundings are worked *calmly*: one thing at a time, and only while both copies are at rest. What
the copies do otherwise (which element moves first, what leaks, how an in-between pressure is read)
is free in each. So if something shows the same in both whenever both are at rest, it tells nothing
of the faults; and if it does so as long as no fault strikes, then a difference tells that one has.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from msgspec import Struct, structs

from verifier.model.run import Run, Step
from verifier.transition.bounds import at_most
from verifier.transition.compiled import Compiled
from verifier.transition.decode import state_of
from verifier.transition.graph import FALSE, Graph
from verifier.transition.system import Choice, Goal, Latch, Reached, System


class Shown(Struct, frozen=True):
    """Something to be seen. literals: over the latches of the circuit, what it shows in bits."""

    name: str
    literals: tuple[int, ...]


class Beside(Struct, frozen=True):
    """goals: for each thing to be seen, that both copies are at rest and it shows different things.

    second: of those latches of the circuit that the second copy has for itself, which of the system
    they are.   absent: latches of the circuit that are always false in it.
    """

    compiled: Compiled
    system: System
    goals: tuple[Goal, ...]
    second: dict[int, int]
    absent: tuple[int, ...]


def beside(compiled: Compiled, faults: Collection[int], shown: Sequence[Shown]) -> Beside:
    """faults: elements of the circuit that are faults. Its hands must all be held ones: what a hand
    does for a moment only, the copies need not both take notice of."""
    if any(not hand.held for hand in compiled.circuit.hands):
        raise ValueError("a hand is worked for a moment only")
    return _Builder(compiled, faults).build(shown)


def runs_of(pair: Beside, reached: Reached) -> tuple[Run, Run]:
    """What an engine claims that each copy does, the one with the faults first."""
    first = [state_of(pair.compiled, values) for values in reached.states]
    other = [state_of(pair.compiled, _second(pair, values)) for values in reached.states]
    one, two = (
        Run(states[0], tuple(Step((), state) for state in states[1:])) for states in (first, other)
    )
    return one, two


def _second(pair: Beside, values: Sequence[bool]) -> list[bool]:
    found = list(values)
    for latch, where in pair.second.items():
        found[latch] = values[where]
    for latch in pair.absent:
        found[latch] = False
    return found


class _Builder:
    def __init__(self, compiled: Compiled, faults: Collection[int]) -> None:
        self._compiled = compiled
        self._graph: Graph = compiled.system.graph.copy()
        latches, codes = compiled.system.latches, compiled.element_codes
        self._absent = tuple(sorted(i for e in faults for i in codes[e]))
        own = {i for e, code in enumerate(codes) if e not in faults for i in code}
        own |= set(compiled.memory_latches.values())
        self._nodes = {
            i: self._graph.input(f"{latches[i].name}, in the sound copy") for i in sorted(own)
        }
        self._swap = {latches[i].node: literal for i, literal in self._nodes.items()}
        self._swap |= {latches[i].node: FALSE for i in self._absent}
        self._choices = self._own_choices()
        self._swap |= {node: 2 * choice.node for node, choice in self._choices.items()}

    def _own_choices(self) -> dict[int, Choice]:
        """All but those of hands and surroundings, which both copies share."""
        encoding = self._compiled.meaning.encoding
        shared = {*encoding.next_held.values(), *(n for ns in encoding.next_switches for n in ns)}
        found = {}
        for choice in self._compiled.system.choices:
            if choice.node not in shared:
                name = f"{choice.name}, in the sound copy"
                (still,) = self._other([choice.still])
                node = self._graph.input(name) >> 1
                found[choice.node] = Choice(name, node, still, choice.moves)
        return found

    def build(self, shown: Sequence[Shown]) -> Beside:
        graph, compiled = self._graph, self._compiled
        system = compiled.system
        (rest,) = self._other([compiled.at_rest])
        rest = graph.both(rest, compiled.at_rest)
        (encoding,) = self._other([system.encoding])
        touched = self._touched()
        still = graph.any([FALSE, *touched]) ^ 1
        calm = graph.either(still, graph.both(rest, at_most(graph, touched, 1)))
        encoding = graph.all([system.encoding, encoding, calm])
        goals = tuple(
            Goal(f"{one.name} shows", graph.both(rest, self._differs(one))) for one in shown
        )
        return Beside(
            compiled=compiled,
            system=structs.replace(
                system,
                graph=graph,
                latches=(*system.latches, *self._second_latches()),
                choices=(*system.choices, *self._choices.values()),
                step_allowed=graph.both(system.step_allowed, encoding),
                encoding=encoding,
            ),
            goals=goals,
            second={i: len(system.latches) + k for k, i in enumerate(self._nodes)},
            absent=self._absent,
        )

    def _other(self, literals: Sequence[int]) -> list[int]:
        """The literals in the sound copy."""
        return self._graph.substitute(literals, self._swap)

    def _second_latches(self) -> list[Latch]:
        latches = self._compiled.system.latches
        nexts = self._other([latches[i].next for i in self._nodes])
        return [
            Latch(self._graph.names[node >> 1], node >> 1, latches[i].start, following)
            for (i, node), following in zip(self._nodes.items(), nexts, strict=True)
        ]

    def _touched(self) -> list[int]:
        """For each hand and each switch, that it changes in the step."""
        graph, compiled = self._graph, self._compiled
        hands = ((latch,) for latch in compiled.hand_latches.values())
        things: list[tuple[int, ...]] = [*hands, *compiled.switch_codes]
        latches = compiled.system.latches
        return [
            graph.any(
                [FALSE, *(graph.same(2 * latches[i].node, latches[i].next) ^ 1 for i in thing)]
            )
            for thing in things
        ]

    def _differs(self, one: Shown) -> int:
        graph = self._graph
        others = self._other(one.literals)
        pairs = zip(one.literals, others, strict=True)
        return graph.any([FALSE, *(graph.same(a, b) ^ 1 for a, b in pairs)])
