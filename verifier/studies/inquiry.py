"""Asking an engine, and letting through only what evidence accepts."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from verifier.engines.engine import Budget, Engine
from verifier.evidence.certificate import certify
from verifier.model.run import Run
from verifier.transition.system import Goal, Proved, Reached, System


class Proven(Struct, frozen=True):
    """A fresh solver discharged the obligations. assumptions: names of those that were needed."""

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
    """A proof that evidence accepted, kept for the export of its obligations."""

    system: System
    goal: Goal
    proved: Proved


class Inquiry:
    """One engine with its budget; `claims` collects what it proved."""

    def __init__(self, engine: Engine, budget: Budget) -> None:
        self.engine = engine
        self.budget = budget
        self.claims: list[Claim] = []

    def settle(self, system: System, goal: Goal, decode: Decode) -> Settled:
        """Raises EvidenceError when a claimed proof does not stand."""
        finding = self.engine.search(system, goal, self.budget)
        if isinstance(finding, Proved):
            certificate = certify(system, goal, finding)
            self.claims.append(Claim(system, goal, finding))
            return Proven(
                finding.engine,
                certificate.clauses,
                certificate.obligations,
                certificate.assumptions,
            )
        if isinstance(finding, Reached):
            return Found(decode(finding), finding.shortest)
        return Open(finding.reason, finding.depth)
