"""Explicit search: the true answer for circuits small enough to visit every reachable state."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, cast

from msgspec import Struct

from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.condition import Condition
from verifier.model.run import Run, State, Step
from verifier.simulation.judging import fights, out_of_order, shows, triggered
from verifier.simulation.movement import at_rest
from verifier.simulation.procedure import (
    acting_in,
    fails_to_recover,
    phases_begun,
    put,
    recovered,
)
from verifier.simulation.search import Cost, Edge, Search
from verifier.simulation.steps import (
    acting_sets,
    cost,
    forbidden,
    kept,
    leaked,
    moved,
    start,
    surroundings,
)

LIMIT = 50_000

Truth = Literal["holds", "violated", "vacuous", "inconclusive"]
Acting = tuple[int, ...]


class Answer(Struct, frozen=True):
    """The truth about one instance. `run`: the best violation, or witness of a *possible*: fewest
    steps, then events, then changes of surroundings, then motions (`costs`). A run may be found
    even when there are too many states; a verdict that needs all of them is then inconclusive.
    """

    truth: Truth
    run: Run | None = None
    costs: Cost | None = None


class Exploration:
    """Every reachable state of a circuit, in order of cost; at most `limit` of them.

    Invariant: `states` are canonical and distinct; `complete` says that there are no others.
    """

    def __init__(self, circuit: Circuit, limit: int = LIMIT) -> None:
        self.circuit = circuit
        self.limit = limit
        self._edges: dict[State, tuple[Edge[State], ...]] = {}
        self._search: Search[State] = Search((start(circuit),), self.edges, limit)
        self.complete = self._search.complete
        self.states: tuple[State, ...] = tuple(self._search.order)

    def resting_states(self) -> tuple[State, ...]:
        """The reachable states at rest (M6)."""
        return tuple(state for state in self.states if at_rest(self.circuit, state))

    def first(self, wanted: Callable[[State], bool]) -> State | None:
        """The wanted state that costs least, or None."""
        return next((state for state in self.states if wanted(state)), None)

    def run_to(self, state: State) -> Run:
        """A cheapest run to a reachable state."""
        begin, path = self._search.path(state)
        return Run(begin, tuple(Step(cast(Acting, label), there) for there, label in path))

    def trigger(self, property: Property, trigger: Condition) -> State | None:
        """The state that costs least among those that meet a trigger, or None."""
        return self.first(lambda state: triggered(self.circuit, property, trigger, state))

    def answer(self, property: Property, instance: Instance) -> Answer:
        """The truth about one instance; a violation comes before vacuity."""
        if property.form == "possible":
            found = self._shown(property, instance)
            if found is not None:
                return Answer("holds", *found)
            return Answer("violated" if self.complete else "inconclusive")
        if property.form == "order":
            found, complete = self._disordered(property, instance)
        elif property.form == "recovers":
            found, complete = self._procedure(instance, fails_to_recover)
        else:
            found, complete = self._shown(property, instance), self.complete
        if found is not None:
            return Answer("violated", *found)
        if not (complete and self.complete):
            return Answer("inconclusive")
        if any(self.trigger(property, trigger) is None for trigger in instance.triggers):
            return Answer("vacuous")
        if property.form == "recovers" and self._procedure(instance, recovered)[0] is None:
            return Answer("vacuous")
        return Answer("holds")

    def contest(self) -> Answer:
        """The truth about "no contest"."""
        state = self.first(lambda state: fights(self.circuit, state))
        if state is not None:
            return Answer("violated", self.run_to(state), self._search.cost[state])
        return Answer("holds" if self.complete else "inconclusive")

    def edges(self, state: State) -> tuple[Edge[State], ...]:
        """The states that one step leads to, each once at its least cost; label: hands that act."""
        known = self._edges.get(state)
        if known is None:
            known = self._edges[state] = tuple(_edges(self.circuit, state))
        return known

    def _shown(self, property: Property, instance: Instance) -> tuple[Run, Cost] | None:
        state = self.first(lambda state: shows(self.circuit, property, instance, state))
        return None if state is None else (self.run_to(state), self._search.cost[state])

    def _disordered(
        self, property: Property, instance: Instance
    ) -> tuple[tuple[Run, Cost] | None, bool]:
        """Nodes are (state, whether the order was ready before it)."""
        circuit = self.circuit

        def edges(node: tuple[State, bool]) -> list[Edge[tuple[State, bool]]]:
            _, ready = out_of_order(circuit, property, instance, *node)
            return [((there, ready), add, label) for there, add, label in self.edges(node[0])]

        def broken(node: tuple[State, bool]) -> bool:
            return out_of_order(circuit, property, instance, *node)[0]

        search = Search(((start(circuit), False),), edges, 2 * self.limit, broken)
        if search.goal is None:
            return None, search.complete
        (begin, _), path = search.path(search.goal)
        steps = tuple(Step(cast(Acting, label), there) for (there, _), label in path)
        return (Run(begin, steps), search.cost[search.goal]), True

    def _procedure(
        self, instance: Instance, ends: Callable[[Circuit, Instance, State, int], bool]
    ) -> tuple[tuple[Run, Cost] | None, bool]:
        """A cheapest run through the procedure to where it `ends`. Nodes are (state, phase), with
        phase -1 before the procedure begins. Entering a phase takes no step and has no label.
        """
        circuit = self.circuit

        def edges(node: tuple[State, int]) -> list[Edge[tuple[State, int]]]:
            state, phase = node
            nothing = (0, 0, 0, 0)
            if phase < 0:
                before = [((there, -1), add, label) for there, add, label in self.edges(state)]
                return [*before, ((state, 0), nothing, None)]
            begun = phases_begun(circuit, instance, state, phase)[1:]
            on: list[Edge[tuple[State, int]]] = [((state, p), nothing, None) for p in begun]
            for step in phase_steps(circuit, instance, phase, state):
                on.append(((step.state, phase), (1, *cost(circuit, state, step)), step.acting))
            return on

        def broken(node: tuple[State, int]) -> bool:
            return ends(circuit, instance, *node)

        room = (2 + len(instance.procedure)) * self.limit
        search = Search(((start(circuit), -1),), edges, room, broken)
        if search.goal is None:
            return None, search.complete
        (begin, _), path = search.path(search.goal)
        taken = [(node, label) for node, label in path if label is not None]
        steps = tuple(Step(cast(Acting, label), there) for (there, _), label in taken)
        outside = sum(phase < 0 for (_, phase), _ in taken)
        return (Run(begin, steps, outside), search.cost[search.goal]), True


def phase_steps(circuit: Circuit, instance: Instance, phase: int, state: State) -> list[Step]:
    """The steps of one phase of a procedure; none if an assumption excludes its setpoint (O3)."""
    acting, after = acting_in(circuit, instance, phase), put(circuit, instance, phase, state)
    if forbidden(circuit, state, acting) or forbidden(circuit, after, ()):
        return []
    return [
        Step(acting, State(positions, after.hands, after.settings, memory))
        for positions in moved(circuit, state, acting)
        for memory in kept(circuit, state, positions, after.settings)
    ]


def _edges(circuit: Circuit, state: State) -> list[Edge[State]]:
    """As `steps.successors`, each state once, with what the cheapest step to it costs."""
    found: dict[State, tuple[int, int, int, Acting]] = {}
    around = _changes(circuit, state)
    tried = set()
    for acting in acting_sets(circuit, state):
        choices = tuple(moved(circuit, state, acting))
        if choices in tried:
            continue
        tried.add(choices)
        for positions in choices:
            moves = _differences(state.positions, positions)
            for settings, by_hand in around:
                turned = _differences(state.settings, settings)
                for memory in kept(circuit, state, positions, settings):
                    plain = State(positions, state.hands, settings, memory)
                    motions = moves + len(leaked(circuit, state, plain))
                    for hands, changes in by_hand:
                        there = State(positions, hands, settings, memory)
                        price = (changes + len(acting), turned, motions, acting)
                        if there not in found or price < found[there]:
                            found[there] = price
    return [(there, (1, *price[:3]), price[3]) for there, price in found.items()]


def _changes(
    circuit: Circuit, state: State
) -> list[tuple[tuple[int, ...], list[tuple[tuple[bool, ...], int]]]]:
    """Settings that can follow, each with the hands that can and how many events that takes."""
    found: dict[tuple[int, ...], list[tuple[tuple[bool, ...], int]]] = {}
    for hands, settings in surroundings(circuit):
        events = _differences(state.hands, hands) + _differences(state.settings, settings)
        found.setdefault(settings, []).append((hands, events))
    return list(found.items())


def _differences(before: tuple[int, ...], after: tuple[int, ...]) -> int:
    return sum(a != b for a, b in zip(before, after, strict=True))


def resting_states(circuit: Circuit, limit: int = LIMIT) -> tuple[State, ...]:
    """The reachable states at rest. Raises ValueError if there are more than `limit` states."""
    exploration = Exploration(circuit, limit)
    if not exploration.complete:
        raise ValueError(f"more than {limit} states are reachable")
    return exploration.resting_states()
