"""The default: directed search for the answer, bounded search for the shortest run."""

from __future__ import annotations

from verifier.engines.engine import Budget
from verifier.engines.many import search_many
from verifier.transition.system import Finding, Goal, System


class Portfolio:
    """Each of its two engines has the whole budget."""

    name = "portfolio"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        return search_many(system, [goal], budget)[0]
