"""The part of a system that a question depends on (cone of influence)."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.transition.graph import TRUE, Graph
from verifier.transition.system import System


class Slice(Struct, frozen=True):
    """The latches (indices) that some goal or a constraint can feel, and the conjuncts of the
    constraints. All constraints are kept, so every run of the slice is a run of the system,
    whatever the other choices are.
    """

    latches: tuple[int, ...]
    step_allowed: tuple[int, ...]
    state_allowed: tuple[int, ...]


def slice_of(system: System, roots: Sequence[int]) -> Slice:
    """The slice for literals over the latches (and choices)."""
    steps = conjuncts(system.graph, system.step_allowed)
    states = conjuncts(system.graph, system.state_allowed)
    cone = deep_cone(system, [*roots, *steps, *states])
    latches = tuple(i for i, latch in enumerate(system.latches) if latch.node in cone)
    return Slice(latches, tuple(steps), tuple(states))


def deep_cone(system: System, roots: Sequence[int]) -> set[int]:
    """Nodes that the literals depend on, through any number of steps."""
    fanins = system.graph.fanins
    nexts = {latch.node: latch.next for latch in system.latches}
    seen: set[int] = set()
    stack = [root >> 1 for root in roots]
    while stack:
        node = stack.pop()
        if node in seen:
            continue
        seen.add(node)
        a, b = fanins[node]
        if a >= 0:
            stack += (a >> 1, b >> 1)
        elif node in nexts:
            stack.append(nexts[node] >> 1)
    return seen


def conjuncts(graph: Graph, literal: int) -> list[int]:
    """Literals whose conjunction is `literal`, as far as the graph shows; ascending."""
    found: set[int] = set()
    stack = [literal]
    seen: set[int] = set()
    while stack:
        at = stack.pop()
        if at in seen:
            continue
        seen.add(at)
        if at & 1 or not graph.is_and(at >> 1):
            found.add(at)
        else:
            stack += graph.fanins[at >> 1]
    return sorted(found - {TRUE})


def disjuncts(graph: Graph, literal: int) -> list[int]:
    """Literals whose disjunction is `literal`, as far as the graph shows."""
    return [one ^ 1 for one in conjuncts(graph, literal ^ 1)]
