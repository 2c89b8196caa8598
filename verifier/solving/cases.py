"""Many conditions refuted by cases that they share.

A solver that is asked about a large disjunction, or about each of its parts, finds the same cases
again and again. Here neighbouring conditions are asked about together, and the cases are those of
the inputs that stand near the top of all of them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from itertools import islice

from msgspec import Struct

from verifier.solving.answer import Answer
from verifier.transition.graph import Graph

# Nodes of a condition, from its top down, among which inputs are looked for.
MOST_NODES = 120
# Conflicts that are tried before a case is split.
FEW = 10

Ask = Callable[[Sequence[int], int | None], Answer]
"""A solver's answer under assumptions, within so many conflicts or as many as there are."""


class Batch(Struct, frozen=True):
    """Conditions (graph literals) and the inputs (nodes) that they have in common."""

    conditions: tuple[int, ...]
    shared: tuple[int, ...]


def batches(graph: Graph, conditions: Sequence[int], inputs: Collection[int]) -> list[Batch]:
    """Conditions next to each other that share inputs which most of the others do not have."""
    near = [_near(graph, one, inputs) for one in conditions]
    seen = Counter(node for nodes in near for node in nodes)
    rare = {node for node, times in seen.items() if 2 * times < len(conditions)}
    found: list[Batch] = []
    for condition, nodes in zip(conditions, near, strict=True):
        own = tuple(node for node in nodes if node in rare)
        if found:
            shared = tuple(node for node in found[-1].shared if node in own)
            if shared:
                found[-1] = Batch((*found[-1].conditions, condition), shared)
                continue
        found.append(Batch((condition,), own))
    return found


def possible(ask: Ask, wanted: int, split: Sequence[int]) -> bool:
    """Can the literal `wanted` be true? Tried by the cases of the literals `split`."""
    cases: list[list[int]] = [[]]
    while cases:
        case = cases.pop()
        answer = ask([wanted, *case], FEW if len(case) < len(split) else None)
        if answer is Answer.SAT:
            return True
        if answer is Answer.UNKNOWN:
            literal = split[len(case)]
            cases += ([*case, literal], [*case, -literal])
    return False


def _near(graph: Graph, condition: int, inputs: Collection[int]) -> list[int]:
    """Inputs among the topmost nodes of a condition, the nearest first."""
    fanins = graph.fanins
    order = [condition >> 1]
    seen = {condition >> 1}
    found: list[int] = []
    for node in islice(order, MOST_NODES):
        a, b = fanins[node]
        if a < 0:
            if node in inputs:
                found.append(node)
            continue
        for part in (a >> 1, b >> 1):
            if part not in seen:
                seen.add(part)
                order.append(part)
    return found
