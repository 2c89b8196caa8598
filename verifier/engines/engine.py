"""What every engine offers: one question in, one finding out. Findings are claims, not verdicts."""

from __future__ import annotations

from typing import Protocol

from msgspec import Struct

from verifier.transition.system import Finding, Goal, System


class Budget(Struct, frozen=True):
    """Limits of one search, counted in solver work so that verdicts do not depend on the clock.

    conflicts: SAT conflicts over all calls, each call counting for one more, so that many easy
    calls are work too.   depth: most frames, or steps beyond those that a run into the goal
    certainly needs.
    """

    conflicts: int = 2_000_000
    depth: int = 100


class Engine(Protocol):
    """`name` is what `--engine` takes. When the budget is used up, the finding is Undecided."""

    name: str

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding: ...
