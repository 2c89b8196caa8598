"""A system in which the circuit goes on in two ways after the same event (Q11).

A run of it is a run of the circuit up to a state at rest, if it does not begin at once, a step from
there (the event), further movements while hands and surroundings stand still, and from some state
on two ways apart: first the latches of the circuit are moved, then a second set of its elements and
memories, which up to there have followed the first. So the number of steps is that of all steps,
shared ones counted once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct, structs

from verifier.model.run import Run, Step
from verifier.transition.compiled import Compiled
from verifier.transition.decode import inputs_of_choices, state_of
from verifier.transition.graph import FALSE, TRUE
from verifier.transition.racing import AFTER, FIRST, stillness, ways
from verifier.transition.system import Choice, Definition, Goal, Latch, Reached, System

WHOLE = "no race"
OTHERS = "no race that is not accepted"


class Twofold(Struct, frozen=True):
    """goals: both ways are at rest with an element in different positions, for each element.
    whole: with any.   unaccepted: like the goals, but for what the design accepts.   others: any
    of those.   accepts: for each race that the design accepts, the literal of its condition.

    second: of those latches of the circuit that the second way has for itself, which of the system
    they are.   forked, turned: indices of latches.
    """

    compiled: Compiled
    system: System
    goals: tuple[Goal, ...]
    whole: Goal
    unaccepted: tuple[Goal, ...]
    others: Goal
    accepts: tuple[int, ...]
    second: dict[int, int]
    forked: int
    turned: int


def twofold(compiled: Compiled, *, firm: bool) -> Twofold:
    """firm: once the ways have parted only elements that must move do, and trapped volumes that
    could have air keep it."""
    return _Builder(compiled, firm).build()


def runs_of(twofold: Twofold, reached: Reached) -> tuple[Run, Run]:
    """The two runs that an engine claims, steps in which nothing happens left out."""
    compiled, acting = twofold.compiled, twofold.compiled.meaning.encoding.acting
    first = [state_of(compiled, values) for values in reached.states]
    begun = Run(first[0], ())
    ways: tuple[str, ...]
    runs = {"first": begun, "second": begun}
    for before, after, chosen in zip(
        reached.states, reached.states[1:], reached.choices, strict=False
    ):
        acts = inputs_of_choices(compiled, chosen)
        hands = tuple(hand for hand, node in acting.items() if acts[node])
        if not before[twofold.forked]:
            state, ways = state_of(compiled, after), tuple(runs)
        elif not before[twofold.turned]:
            state, ways = state_of(compiled, after), ("first",)
        else:
            state, ways = state_of(compiled, _second(twofold, after)), ("second",)
        for way in ways:
            runs[way] = _longer(runs[way], Step(hands, state))
    return runs["first"], runs["second"]


def _longer(run: Run, step: Step) -> Run:
    if not step.acting and step.state == run.states[-1]:
        return run
    return Run(run.start, (*run.steps, step))


def _second(twofold: Twofold, values: Sequence[bool]) -> list[bool]:
    """The valuation of the circuit's latches that the second way stands at."""
    found = list(values)
    for latch, where in twofold.second.items():
        found[latch] = values[where]
    return found


class _Builder:
    def __init__(self, compiled: Compiled, firm: bool) -> None:
        self._compiled = compiled
        self._firm = firm
        self._graph = graph = compiled.system.graph.copy()
        latches = compiled.system.latches
        own = {i for code in compiled.element_codes for i in code}
        own |= set(compiled.memory_latches.values())
        self._nodes = {i: graph.input(f"{latches[i].name}, the other way") for i in sorted(own)}
        self._swap = {latches[i].node: literal for i, literal in self._nodes.items()}

    def build(self) -> Twofold:
        graph, system = self._graph, self._compiled.system
        count = len(system.latches)
        names = (AFTER, "the ways have parted", "the other way goes")
        after, forked, turned = (graph.input(name) for name in names)
        first = graph.input(FIRST)
        choices = [graph.input(f"{name} from the next state on") for name in names]
        ready = graph.either(first, self._compiled.at_rest)
        nexts = [graph.either(after, graph.both(choices[0], ready))]
        for now, chosen in ((forked, choices[1]), (turned, choices[2])):
            nexts.append(graph.either(now, graph.both(chosen, nexts[-1])))
        latches = [
            *self._first(turned),
            *self._second(forked, turned),
            Latch(FIRST, first >> 1, True, FALSE),
            *(
                Latch(name, node >> 1, False, following)
                for name, node, following in zip(names, (after, forked, turned), nexts, strict=True)
            ),
        ]
        limits = graph.either(forked ^ 1, self._limits(turned))
        still = graph.either(after ^ 1, graph.both(self._still(), limits))
        goals = tuple(self._goals(forked))
        meaning, circuit = self._compiled.meaning.on(graph), self._compiled.circuit
        accepts = tuple(meaning.surroundings(one.condition) for one in circuit.accepted)
        unaccepted = tuple(self._unaccepted(e, goal, accepts) for e, goal in enumerate(goals))
        return Twofold(
            compiled=self._compiled,
            system=structs.replace(
                system,
                graph=graph,
                latches=tuple(latches),
                choices=(
                    *system.choices,
                    *(Choice(graph.names[c >> 1], c >> 1) for c in choices),
                ),
                step_allowed=graph.both(system.step_allowed, still),
                encoding=graph.both(system.encoding, still),
                motions=tuple(self._motions(turned)),
            ),
            goals=goals,
            whole=Goal(WHOLE, graph.any(goal.bad for goal in goals)),
            unaccepted=unaccepted,
            others=Goal(OTHERS, graph.any(goal.bad for goal in unaccepted)),
            accepts=accepts,
            second={i: count + k for k, i in enumerate(self._nodes)},
            forked=len(latches) - 2,
            turned=len(latches) - 1,
        )

    def _other(self, literals: Sequence[int]) -> list[int]:
        """The literals on the second way."""
        return self._graph.substitute(literals, self._swap)

    def _first(self, turned: int) -> list[Latch]:
        """The circuit's own latches; those that move wait while the other way goes."""
        graph = self._graph
        return [
            structs.replace(latch, next=graph.choose(turned, 2 * latch.node, latch.next))
            if i in self._nodes
            else latch
            for i, latch in enumerate(self._compiled.system.latches)
        ]

    def _second(self, forked: int, turned: int) -> list[Latch]:
        """They follow the first until the ways part, then wait until it is their turn."""
        graph, latches = self._graph, self._compiled.system.latches
        nexts = self._other([latches[i].next for i in self._nodes])
        found = []
        for (i, node), own in zip(self._nodes.items(), nexts, strict=True):
            waits = graph.choose(turned, own, node)
            following = graph.choose(forked, waits, latches[i].next)
            found.append(Latch(graph.names[node >> 1], node >> 1, latches[i].start, following))
        return found

    def _still(self) -> int:
        return stillness(self._compiled, self._graph)

    def _limits(self, turned: int) -> int:
        """What a firm step must not do, on the way that goes."""
        if not self._firm:
            return TRUE
        graph, compiled = self._graph, self._compiled
        encoding = compiled.meaning.on(graph).encoding
        count = len(compiled.circuit.elements)
        limits = [2 * node ^ 1 for node in encoding.empty.values()]
        for element, motion in enumerate(compiled.system.motions[:count]):
            torn = graph.both(*ways(encoding, element, compiled.demands[element]))
            firm = graph.both(compiled.must_move[element], torn ^ 1)
            limits.append(graph.either(motion.literal ^ 1, firm))
        here = graph.all(limits)
        return graph.choose(turned, self._other([here])[0], here)

    def _motions(self, turned: int) -> list[Definition]:
        graph, motions = self._graph, self._compiled.system.motions
        others = self._other([motion.literal for motion in motions])
        return [
            Definition(motion.name, graph.choose(turned, other, motion.literal))
            for motion, other in zip(motions, others, strict=True)
        ]

    def _unaccepted(self, element: int, goal: Goal, accepts: Sequence[int]) -> Goal:
        """Hands and surroundings stand as they have stood since the event."""
        graph, every = self._graph, self._compiled.circuit.accepted
        pairs = zip(every, accepts, strict=True)
        met = [literal for one, literal in pairs if element in one.elements]
        return Goal(f"{goal.name}, not accepted", graph.both(goal.bad, graph.any(met) ^ 1))

    def _goals(self, forked: int) -> Iterator[Goal]:
        graph, rest = self._graph, self._compiled.at_rest
        over = graph.all([forked, rest, self._other([rest])[0]])
        encoding = self._compiled.meaning.on(graph).encoding
        for e, element in enumerate(self._compiled.circuit.elements):
            bits = [encoding.beyond(e, k) for k in range(1, len(element.positions))]
            differ = graph.any(
                graph.same(a, b) ^ 1 for a, b in zip(bits, self._other(bits), strict=True)
            )
            yield Goal(f"no race: {element.name}", graph.both(over, differ))
