"""What property-directed search still has to block."""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass

from verifier.engines.relation import Cube
from verifier.engines.walk import Choices


@dataclass(frozen=True)
class Obligation:
    """Every state of `cube` leads into the goal `bad` (a graph literal) in `steps` steps: by the
    step `choices` into `after`, or at once when `after` is None.
    """

    cube: Cube
    steps: int
    bad: int
    after: Obligation | None
    choices: Choices

    def path(self) -> Iterator[Choices]:
        """The steps into the goal."""
        at = self
        while at.after is not None:
            yield at.choices
            at = at.after


class Queue:
    """Most steps first, since those are nearest to the start; then in the order of arrival."""

    def __init__(self) -> None:
        self._heap: list[tuple[int, int, Obligation]] = []
        self._count = 0

    def push(self, obligation: Obligation) -> None:
        self._count += 1
        heapq.heappush(self._heap, (-obligation.steps, self._count, obligation))

    def pop(self) -> Obligation | None:
        return heapq.heappop(self._heap)[2] if self._heap else None

    def drop(self, bad: int) -> None:
        """Forget what leads into this goal."""
        self._heap = [row for row in self._heap if row[2].bad != bad]
        heapq.heapify(self._heap)
