"""Asking an engine, and letting through only what evidence accepts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from copy import copy

from msgspec import Struct

from verifier.engines.engine import Budget, Engine
from verifier.engines.many import reach_each
from verifier.engines.simplest import Simplest
from verifier.evidence.certificate import certify_all
from verifier.model.run import Run
from verifier.transition.system import Finding, Goal, Proved, Reached, System, Undecided


class Proven(Struct, frozen=True):
    """A fresh solver discharged the obligations, for all goals of one question that were proved.

    assumptions: names of those that were needed.
    """

    engine: str
    clauses: int
    obligations: int
    assumptions: tuple[str, ...]


class Found(Struct, frozen=True):
    """A run that an engine claims; it is not replayed yet."""

    run: Run
    shortest: bool


class Open(Struct, frozen=True):
    """Nothing is known beyond `depth` steps (-1: nothing at all)."""

    reason: str
    depth: int


Settled = Proven | Found | Open
Decode = Callable[[Reached], Run]


class Claim(Struct, frozen=True):
    """Proofs of goals of one system that evidence accepted together, under these assumptions of the
    design alone."""

    system: System
    goals: tuple[Goal, ...]
    proofs: tuple[Proved, ...]
    assumptions: tuple[str, ...] = ()


class Inquiry:
    """Whom to ask, and with what budget. `claims` collects what was proved.

    engine: None asks many goals at once and can make runs simple; a named engine is asked about one
    goal after the other.
    """

    def __init__(self, engine: Engine | None, budget: Budget) -> None:
        self.engine = engine
        self.budget = budget
        self.claims: list[Claim] = []
        self._simplest: tuple[System, dict[int, Simplest]] | None = None

    def within(self, budget: Budget) -> Inquiry:
        """The same with another budget. What is proved goes among the same claims."""
        other = copy(self)
        other.budget = budget
        return other

    def settle(self, system: System, goals: Sequence[Goal], decode: Decode) -> tuple[Settled, ...]:
        """An answer to each goal. Raises EvidenceError when a claimed proof does not stand."""
        findings = self._findings(system, goals)
        proven = self._proven(system, goals, findings)
        # Goals that are one literal have one answer, and a run is decoded once.
        answers: dict[int, Settled] = {}
        for goal, finding in zip(goals, findings, strict=True):
            if goal.bad not in answers:
                answers[goal.bad] = _settled(finding, proven, decode)
        return tuple(answers[goal.bad] for goal in goals)

    def simplified(self, system: System, goal: Goal, found: Found, decode: Decode) -> Found:
        """Among the runs of that length into the goal, one with fewest events (Q10), if the run is
        a shortest one and the budget lasts."""
        if self.engine is not None or not found.shortest:
            return found
        if self._simplest is None or self._simplest[0] is not system:
            self._simplest = (system, {})
        depth = len(found.run.steps)
        known = self._simplest[1]
        if depth not in known:
            known[depth] = Simplest(system, depth, self.budget)
        better = known[depth].run_into(goal, "simplest")
        return Found(decode(better), True) if isinstance(better, Reached) else found

    def _findings(self, system: System, goals: Sequence[Goal]) -> tuple[Finding, ...]:
        if not goals:
            return ()
        if self.engine is not None:
            return tuple(self.engine.search(system, goal, self.budget) for goal in goals)
        return reach_each(system, goals, self.budget)

    def _proven(
        self, system: System, goals: Sequence[Goal], findings: Sequence[Finding]
    ) -> Proven | None:
        """All proofs at once: clauses that prove several goals may be inductive only together."""
        proofs = {one.goal: one for one in findings if isinstance(one, Proved)}
        if not proofs:
            return None
        proved = tuple(goal for goal in goals if goal.name in proofs)
        accepted = tuple(proofs[goal.name] for goal in proved)
        certificate = certify_all(system, proved, accepted)
        self.claims.append(Claim(system, proved, accepted, certificate.assumptions))
        return Proven(
            ", ".join(dict.fromkeys(one.engine for one in accepted)),
            certificate.clauses,
            certificate.obligations,
            certificate.assumptions,
        )


def _settled(finding: Finding, proven: Proven | None, decode: Decode) -> Settled:
    if isinstance(finding, Reached):
        return Found(decode(finding), finding.shortest)
    if isinstance(finding, Undecided):
        return Open(finding.reason, finding.depth)
    if proven is None:
        raise ValueError("a proof without a certificate")
    return proven
