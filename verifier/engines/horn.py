"""z3's engine for Horn clauses as a proposer of invariants."""

from __future__ import annotations

from verifier.engines.engine import Budget
from verifier.engines.slice import slice_of
from verifier.solving.answer import Answer
from verifier.transition.system import Finding, Goal, Proved, System, Undecided


class Horn:
    """Proposes proofs; that there is a run, it can say, but not which."""

    name = "horn"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        # Only those who ask for this engine wait for its import.
        from verifier.solving.horn_door import ClauseLimit, HornQuery

        part = slice_of(system, [goal.bad])
        query = HornQuery(system, part.latches, part.step_allowed, part.state_allowed)
        answer = query.ask(goal.bad, budget.conflicts)
        if answer is Answer.SAT:
            return Undecided(goal.name, "there is a run, but not one it can show", -1, self.name)
        if answer is Answer.UNKNOWN:
            return Undecided(goal.name, "gave up within its budget", -1, self.name)
        try:
            lemmas = query.invariant()
        except ClauseLimit as limit:
            return Undecided(goal.name, f"its invariant is not to be had: {limit}", -1, self.name)
        return Proved(goal.name, lemmas, self.name)
