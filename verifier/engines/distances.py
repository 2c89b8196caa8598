"""How soon a literal can come true at the earliest, conflicts between its causes left aside.

Each literal is asked by itself: a conjunction may be true once each of its parts may be, a latch
takes a value once its next value may be that, and what may be true once may be true from then on.
So a distance is a lower bound for every run, and what has none never comes true.
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heapify, heappop, heappush

from verifier.engines.slice import deep_cone
from verifier.transition.system import System

NEVER = 1 << 60
# Causes shared by causes count each time, so that what a long chain asks for doubles link by link.
MOST_ASKED = 1 << 4_000


class Distances:
    """Lower bounds over all that the literals `roots`, and the constraints of the system, depend on
    through any number of steps.

    That steps are constrained is left aside too. Among causes that are possible equally soon the
    one is named that asks for least: for fewest choices other than to stand still.
    """

    def __init__(self, system: System, roots: Sequence[int]) -> None:
        self._graph = system.graph
        self._soonest: dict[int, int] = {}
        self._asks: dict[int, int] = {}
        self._cause: dict[int, int] = {}
        self._readers: dict[int, list[int]] = {}
        constraints = (system.step_allowed, system.state_allowed)
        self._fill(system, deep_cone(system, [*roots, *constraints]))

    def of(self, literal: int) -> int:
        """The fewest steps before the literal may be true; NEVER if it cannot, or if neither it nor
        its negation is depended on."""
        if literal <= 1:
            return 0 if literal else NEVER
        return self._soonest.get(literal, NEVER)

    def cause(self, literal: int) -> int:
        """For the negation of a conjunction that is possible: the negated part that makes it so."""
        return self._cause[literal]

    def _fill(self, system: System, cone: set[int]) -> None:
        fanins = self._graph.fanins
        for node in sorted(cone):
            a, b = fanins[node]
            if a >= 0:
                self._readers.setdefault(a >> 1, []).append(node)
                self._readers.setdefault(b >> 1, []).append(node)
        layer = [(0, 1)]
        for choice in system.choices:
            layer += [(int(choice.still != 1), 2 * choice.node)] if choice.node in cone else []
            layer += [(int(choice.still != 0), 2 * choice.node + 1)] if choice.node in cone else []
        feeds: dict[int, list[int]] = {}
        for latch in system.latches:
            if latch.node in cone:
                layer.append((0, 2 * latch.node ^ (not latch.start)))
                feeds.setdefault(latch.next, []).append(2 * latch.node)
                feeds.setdefault(latch.next ^ 1, []).append(2 * latch.node + 1)
        steps = 0
        while layer:
            layer = [
                (asks + 1, latch)
                for at, asks in self._layer(layer, steps)
                for latch in feeds.get(at, ())
                if latch not in self._soonest
            ]
            steps += 1

    def _layer(self, waiting: list[tuple[int, int]], steps: int) -> list[tuple[int, int]]:
        """All literals that are possible after so many steps and not before, with what they ask;
        `waiting` has those that the steps themselves make possible."""
        soonest, asks, fanins = self._soonest, self._asks, self._graph.fanins
        found: list[tuple[int, int]] = []
        heapify(waiting)
        while waiting:
            ask, at = heappop(waiting)
            if at in soonest:
                continue
            soonest[at], asks[at] = steps, ask
            found.append((at, ask))
            for node in self._readers.get(at >> 1, ()):
                a, b = fanins[node]
                if at in (a, b):
                    other = b if at == a else a
                    if other in soonest and 2 * node not in soonest:
                        heappush(waiting, (min(ask + asks[other], MOST_ASKED), 2 * node))
                if (at ^ 1 == a or at ^ 1 == b) and 2 * node + 1 not in soonest:
                    self._cause.setdefault(2 * node + 1, at)
                    heappush(waiting, (ask, 2 * node + 1))
        return found
