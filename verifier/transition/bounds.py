"""A system whose runs end before too many faults have struck (F1)."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, structs

from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.system import System

NAME = "faults considered"


class Bounds(Struct, frozen=True):
    """most: so many faults at most strike in one run.   apart: sets of which not all do."""

    most: int
    apart: tuple[tuple[int, ...], ...] = ()


def bounded(system: System, struck: Sequence[int], bounds: Bounds) -> System:
    """The system with one more assumption, `NAME`, which is true in every state of its runs.

    struck: for each fault the literal over the latches that it has struck; once it is true it stays
    so, so that a run within bounds is one whose last state is.
    """
    graph = system.graph.copy()
    within = literal(graph, struck, bounds)
    nexts = {latch.node: latch.next for latch in system.latches}
    (after,) = graph.substitute([within], nexts)
    step = graph.both(within, after)
    return structs.replace(
        system,
        graph=graph,
        step_allowed=graph.both(system.step_allowed, step),
        state_allowed=graph.both(system.state_allowed, within),
        assumptions=(*system.assumptions, (NAME, step)),
        state_assumptions=(*system.state_assumptions, (NAME, within)),
    )


def literal(graph: Graph, struck: Sequence[int], bounds: Bounds) -> int:
    """That so far no more have struck than the bounds let."""
    apart = (graph.all(struck[one] for one in group) ^ 1 for group in bounds.apart)
    return graph.all([at_most(graph, struck, bounds.most), *apart])


def at_most(graph: Graph, literals: Sequence[int], most: int) -> int:
    """At most so many of the literals are true: a count is handed on from one to the next."""
    more = [TRUE] + [FALSE] * (most + 1)  # more[k]: at least k so far
    for one in literals:
        for k in range(most + 1, 0, -1):
            more[k] = graph.either(more[k], graph.both(more[k - 1], one))
    return more[most + 1] ^ 1
