"""The part of a system that a question depends on (cone of influence)."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.transition.graph import TRUE, Graph
from verifier.transition.system import System


class Slice(Struct, frozen=True):
    """The latches (indices) that some goal can feel, and those conjuncts of the constraints that
    touch them. Dropping the other conjuncts only adds behaviour, so a proof of the slice is one of
    the system; a run of the slice extends to the system, since every allowed state has an allowed
    step.
    """

    latches: tuple[int, ...]
    step_allowed: tuple[int, ...]
    state_allowed: tuple[int, ...]


def slice_of(system: System, roots: Sequence[int]) -> Slice:
    """The slice for literals over the latches (and choices)."""
    graph = system.graph
    latch_at = {latch.node: index for index, latch in enumerate(system.latches)}
    waiting = [
        (literal, frozenset(_support(graph, [literal])), kind)
        for kind, whole in ((0, system.step_allowed), (1, system.state_allowed))
        for literal in conjuncts(graph, whole)
    ]
    kept: tuple[list[int], list[int]] = ([], [])
    known: set[int] = set()
    fresh = _support(graph, roots)
    while fresh:
        known |= fresh
        latches = [latch_at[node] for node in fresh if node in latch_at]
        fresh = _support(graph, [system.latches[i].next for i in latches])
        still = []
        for literal, support, kind in waiting:
            if support & known or not support:
                kept[kind].append(literal)
                fresh |= support
            else:
                still.append((literal, support, kind))
        waiting = still
        fresh -= known
    indices = tuple(sorted(latch_at[node] for node in known if node in latch_at))
    return Slice(indices, tuple(sorted(kept[0])), tuple(sorted(kept[1])))


def whole(system: System) -> Slice:
    """Everything."""
    return Slice(tuple(range(len(system.latches))), (system.step_allowed,), (system.state_allowed,))


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
