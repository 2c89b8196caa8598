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
    graph = system.graph
    latch_at = {latch.node: index for index, latch in enumerate(system.latches)}
    steps = conjuncts(graph, system.step_allowed)
    states = conjuncts(graph, system.state_allowed)
    known: set[int] = set()
    fresh = _support(graph, [*roots, *steps, *states])
    while fresh:
        known |= fresh
        nexts = [system.latches[latch_at[node]].next for node in fresh if node in latch_at]
        fresh = _support(graph, nexts) - known
    latches = tuple(sorted(latch_at[node] for node in known if node in latch_at))
    return Slice(latches, tuple(steps), tuple(states))


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


def _support(graph: Graph, roots: Sequence[int]) -> set[int]:
    """Input nodes that the roots depend on."""
    return {node for node in graph.cone(roots) if node and not graph.is_and(node)}
