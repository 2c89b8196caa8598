"""What property-directed search still has to block."""

from __future__ import annotations

import heapq
from dataclasses import dataclass

from verifier.engines.relation import Cube
from verifier.engines.walk import Choices


@dataclass(frozen=True)
class Obligation:
    """Every state of `cube` leads into the goal: by the step `choices` into `after`, or at once
    when `after` is None. The cube is to be shown out of reach within `level` steps.
    """

    cube: Cube
    level: int
    after: Obligation | None
    choices: Choices


class Queue:
    """Lowest level first, then in the order of arrival."""

    def __init__(self) -> None:
        self._heap: list[tuple[int, int, Obligation]] = []
        self._count = 0

    def push(self, obligation: Obligation) -> None:
        self._count += 1
        heapq.heappush(self._heap, (obligation.level, self._count, obligation))

    def pop(self) -> Obligation | None:
        return heapq.heappop(self._heap)[2] if self._heap else None
