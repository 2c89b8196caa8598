"""*Comes to rest*, decided exactly on the explicit graph.

The question: with hands and surroundings still, and every element that must move eventually moving,
is a state at rest always reached? It is not if there is a loop that can be repeated for ever:
- no state in it is at rest, no hand acts, no hand or switch changes; elements move and trapped air
  leaks as the rules allow;
- for every element, it moves somewhere in the loop, or need not move somewhere in it (so none is
  kept waiting for ever by chance);
- readings are steady. This is a named modelling assumption: while a volume can be read either way
  without a break, each pilot that reads it keeps to one reading of it, and its element moves, if it
  moves, towards what that reading selects. When the volume has been definite in between, the pilot
  reads it afresh, either way. Without this, one pilot on one in-between line could flutter for
  ever.
So a move that an element may make but need not make is never needed for a loop to end, and a loop
that lives on changes of mind alone does not count.

Loops lie in knots, the sets of states in which each leads to every other (strongly connected):
first of the states, with every move that the rules allow (a superset), then, within those that meet
the conditions, of states together with readings.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from itertools import product
from typing import TypeVar

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.run import Run, State
from verifier.simulation.explore import Exploration, Truth
from verifier.simulation.movement import at_rest, must_move, selected
from verifier.simulation.plan import Reading, plan_of
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import kept, moved

Node = TypeVar("Node", bound=Hashable)
Steady = tuple[bool | None, ...]
"""What each reading of each element sees: None where its volume is definite."""


class RestAnswer(Struct, frozen=True):
    """`run` leads into a loop of `loop` states in which the circuit can stay without rest."""

    truth: Truth
    run: Run | None = None
    loop: tuple[State, ...] = ()


def comes_to_rest(exploration: Exploration) -> RestAnswer:
    """The truth; inconclusive if states were left out and no loop was found among the others."""
    circuit = exploration.circuit
    restless = [state for state in exploration.states if not at_rest(circuit, state)]
    known = set(restless)

    def onward(state: State) -> list[State]:
        return [there for there in still_steps(circuit, state) if there in known]

    for knot in knots(restless, onward):
        if not _fair(circuit, knot, lambda state: state, onward):
            continue
        steady = _steady_loop(circuit, knot)
        if steady:
            first = next(state for state in exploration.states if state in steady)
            return RestAnswer("violated", exploration.run_to(first), tuple(sorted(steady)))
    return RestAnswer("holds" if exploration.complete else "inconclusive")


def can_stay(circuit: Circuit, states: Iterable[State]) -> bool:
    """Whether the circuit can stay among these states for ever, none of them at rest, by the rules
    for a loop."""
    knot = tuple(dict.fromkeys(states))
    return not any(at_rest(circuit, state) for state in knot) and bool(_steady_loop(circuit, knot))


def still_steps(circuit: Circuit, state: State) -> list[State]:
    """The other states that one step leads to while no hand acts and nothing around changes."""
    return [
        there
        for positions in moved(circuit, state, ())
        for memory in kept(circuit, state, positions, state.settings)
        if (there := State(positions, state.hands, state.settings, memory)) != state
    ]


def _fair(
    circuit: Circuit,
    knot: Sequence[Node],
    state_of: Callable[[Node], State],
    onward: Callable[[Node], list[Node]],
) -> bool:
    """Whether every element moves within the knot or need not move somewhere in it."""
    inside = set(knot)
    edges = [(node, there) for node in knot for there in onward(node) if there in inside]
    if not edges:
        return False
    return all(
        any(state_of(a).positions[element] != state_of(b).positions[element] for a, b in edges)
        or any(not must_move(circuit, state_of(node), element) for node in knot)
        for element in range(len(circuit.elements))
    )


def _steady_loop(circuit: Circuit, knot: Sequence[State]) -> set[State]:
    """The states of a fair loop with steady readings inside the knot; empty without one."""
    readers = [
        (element, reading)
        for element, readings in enumerate(plan_of(circuit).readings)
        for reading in readings
    ]
    inside = set(knot)
    nodes = [(state, steady) for state in knot for steady in _afresh(circuit, readers, state, None)]

    def onward(node: tuple[State, Steady]) -> list[tuple[State, Steady]]:
        state, steady = node
        wanted = _wanted(circuit, readers, state, steady)
        return [
            (there, after)
            for there in still_steps(circuit, state)
            if there in inside and _towards(state.positions, there.positions, wanted)
            for after in _afresh(circuit, readers, there, steady)
        ]

    for found in knots(nodes, onward):
        if _fair(circuit, found, lambda node: node[0], onward):
            return {state for state, _ in found}
    return set()


def _afresh(
    circuit: Circuit,
    readers: Sequence[tuple[int, Reading]],
    state: State,
    before: Steady | None,
) -> Iterable[Steady]:
    """The readings that can follow `before`: kept where the volume can still be read either way."""
    air = pressures(circuit, state)
    choices: list[tuple[bool | None, ...]] = []
    for index, (_, (_, volume)) in enumerate(readers):
        old = None if before is None else before[index]
        if not air.either_way(volume):
            choices.append((None,))
        else:
            choices.append((False, True) if old is None else (old,))
    return product(*choices)


def _wanted(
    circuit: Circuit, readers: Sequence[tuple[int, Reading]], state: State, steady: Steady
) -> list[int]:
    """The position that each element's readings select."""
    air = pressures(circuit, state)
    seen: list[dict[Reading, bool]] = [{} for _ in circuit.elements]
    for (element, reading), value in zip(readers, steady, strict=True):
        seen[element][reading] = air.can_high[reading[1]] if value is None else value
    return [selected(circuit, state, e, (), seen[e]) for e in range(len(circuit.elements))]


def _towards(before: tuple[int, ...], after: tuple[int, ...], wanted: list[int]) -> bool:
    return all(
        a == b or (b - a) * (w - a) > 0 for a, b, w in zip(before, after, wanted, strict=True)
    )


def knots(nodes: Iterable[Node], onward: Callable[[Node], list[Node]]) -> list[tuple[Node, ...]]:
    """Strongly connected sets of nodes (Tarjan's algorithm, without recursion)."""
    number: dict[Node, int] = {}
    low: dict[Node, int] = {}
    stack: list[Node] = []
    waiting: set[Node] = set()
    found: list[tuple[Node, ...]] = []
    for root in nodes:
        if root in number:
            continue
        work = [(root, iter(onward(root)))]
        number[root] = low[root] = len(number)
        stack.append(root)
        waiting.add(root)
        while work:
            node, edges = work[-1]
            fresh = next(
                (there for there in edges if _look(there, node, number, low, waiting)), None
            )
            if fresh is not None:
                number[fresh] = low[fresh] = len(number)
                stack.append(fresh)
                waiting.add(fresh)
                work.append((fresh, iter(onward(fresh))))
                continue
            work.pop()
            if work:
                parent = work[-1][0]
                low[parent] = min(low[parent], low[node])
            if low[node] == number[node]:
                cut = stack.index(node)
                found.append(tuple(stack[cut:]))
                waiting.difference_update(stack[cut:])
                del stack[cut:]
    return found


def _look(
    there: Node, node: Node, number: dict[Node, int], low: dict[Node, int], waiting: set[Node]
) -> bool:
    """Whether an edge leads to a node not met before; if it does not, note what it reaches."""
    if there not in number:
        return True
    if there in waiting:
        low[node] = min(low[node], number[there])
    return False


def rests_after_all(circuit: Circuit, run: Run) -> bool:
    """Whether the run ends at rest and something had to move before that (M6)."""
    *before, last = run.states
    return at_rest(circuit, last) and not all(at_rest(circuit, one) for one in before)
