"""Reachability by binary decision diagrams, with CUDD behind `dd`: a reference for benchmarks.

Forward search over a partitioned step relation, inputs and old values quantified as early as they
can be, variables sifted by CUDD.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dd import cudd

from verifier.transition.aiger import felt
from verifier.transition.system import Goal, System

LARGEST = 3_000
"""Parts of the step relation are joined up to this many nodes."""


def shortest(system: System, goal: Goal) -> int | None:
    """Steps of the shortest run into the goal; None when there is none."""
    space = Space(system, goal)
    reached = border = space.start
    depth = 0
    while border != space.diagrams.false:
        if border & space.bad != space.diagrams.false:
            return depth
        after = space.image(border)
        border = after & ~reached
        reached |= after
        depth += 1
    return None


class Space:
    """Diagrams of the start, of `bad`, and of the steps between states.

    Bits of the state are `s0`, `s1` …, those of the state after a step `t0`, `t1` …, free bits of a
    step `c` and their node.
    """

    def __init__(self, system: System, goal: Goal) -> None:
        self.diagrams = diagrams = cudd.BDD()
        diagrams.configure(reordering=True)
        latches = felt(system, [goal.bad, system.step_allowed, system.state_allowed])
        roots = [goal.bad, system.step_allowed, system.state_allowed]
        cone = system.graph.cone([*roots, *(latch.next for latch in latches)])
        names = {latch.node: f"s{k}" for k, latch in enumerate(latches)}
        for k in range(len(latches)):
            diagrams.declare(f"s{k}", f"t{k}")
        for node in cone:
            if node and not system.graph.is_and(node) and node not in names:
                names[node] = f"c{node}"
                diagrams.declare(names[node])
        known: dict[int, Any] = {0: diagrams.false}
        for node in cone:
            if node in names:
                known[node] = diagrams.var(names[node])
            elif node:
                a, b = system.graph.fanins[node]
                known[node] = _at(known, a) & _at(known, b)
        self.start = diagrams.cube({f"s{k}": latch.start for k, latch in enumerate(latches)})
        self.bad = _at(known, goal.bad) & _at(known, system.state_allowed)
        parts = [_at(known, system.step_allowed)]
        for k, latch in enumerate(latches):
            parts.append(diagrams.apply("<->", diagrams.var(f"t{k}"), _at(known, latch.next)))
        self._back = {f"t{k}": f"s{k}" for k in range(len(latches))}
        self._schedule = _schedule(_joined(parts), set(names.values()))

    def image(self, states: Any) -> Any:
        """The states that one allowed step leads to."""
        for part, over in self._schedule:
            states = cudd.and_exists(states, part, over)
        return self.diagrams.let(self._back, states)


def _at(known: dict[int, Any], literal: int) -> Any:
    return ~known[literal >> 1] if literal & 1 else known[literal >> 1]


def _joined(parts: Sequence[Any]) -> list[Any]:
    """Neighbouring parts together as long as they stay small."""
    joined: list[Any] = []
    for part in parts:
        if joined:
            both = joined[-1] & part
            if both.dag_size <= LARGEST:
                joined[-1] = both
                continue
        joined.append(part)
    return joined


def _schedule(parts: Sequence[Any], old: set[str]) -> list[tuple[Any, list[str]]]:
    """Each part with the old variables that no later part speaks of."""
    supports = [set(part.support) & old for part in parts]
    rows = []
    left = set(old)
    for k, part in enumerate(parts):
        later: set[str] = set().union(*supports[k + 1 :])
        over = sorted(left - later)
        left -= set(over)
        rows.append((part, over))
    return rows
