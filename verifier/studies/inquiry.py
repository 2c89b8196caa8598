"""Asking an engine, and letting through only what evidence accepts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from copy import copy

from msgspec import Struct

from verifier.engines.crew import Crew, ask, can_have_workers
from verifier.engines.engine import Budget, Engine
from verifier.engines.rounds import EASY_NODES, MOST_NODES, Unsettled, settle_goals
from verifier.engines.simplest import Simplest
from verifier.engines.worker import Failure, Kind
from verifier.evidence.certificate import Certificate, certify_all
from verifier.evidence.error import EvidenceError, Unchecked
from verifier.evidence.named import Named, met_at_start
from verifier.model.run import Run
from verifier.transition.system import Finding, Goal, Proved, Reached, System, Undecided

# Steps times nodes of the graph beyond which a run is not made simpler: it would take minutes.
MOST_SIMPLIFIED = 2_000_000


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
    """Nothing is known beyond `depth` steps (-1: nothing at all). kinds: of workers that failed."""

    reason: str
    depth: int
    kinds: tuple[Kind, ...] = ()


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
    goal after the other.   crew: who is asked what this process had better not be.
    earlier: clauses of earlier proofs, which the portfolio tries as guesses.
    """

    def __init__(
        self,
        engine: Engine | None,
        budget: Budget,
        crew: Crew | None = None,
        earlier: Sequence[Named] = (),
    ) -> None:
        self.engine = engine
        self.budget = budget
        self.crew = crew or Crew()
        self.earlier = earlier
        self.claims: list[Claim] = []
        self._simplest: tuple[System, dict[int, Simplest]] | None = None

    def within(self, budget: Budget) -> Inquiry:
        """The same with another budget. What is proved goes among the same claims."""
        other = copy(self)
        other.budget = budget
        return other

    def settle(self, system: System, goals: Sequence[Goal], decode: Decode) -> tuple[Settled, ...]:
        """An answer to each goal. Raises EvidenceError when a claimed proof does not stand, or when
        the findings are not about these goals, each about its own."""
        if not goals:
            return ()
        earlier = met_at_start(system, self.earlier) if self.earlier else ()
        findings = settle_goals(system, goals, self.budget, self.crew, self.engine, earlier)
        about = [None if isinstance(one, Unsettled) else one.goal for one in findings]
        if len(about) != len(goals) or any(
            name not in (None, goal.name) for name, goal in zip(about, goals, strict=True)
        ):
            raise EvidenceError("the findings are not those of the goals")
        proven = self._proven(system, goals, findings)
        # Goals that are one literal have one answer, and a run is decoded once.
        answers: dict[int, Settled] = {}
        for goal, finding in zip(goals, findings, strict=True):
            if goal.bad not in answers:
                answers[goal.bad] = _settled(finding, proven, decode)
        return tuple(answers[goal.bad] for goal in goals)

    def simplified(self, system: System, goal: Goal, found: Found, decode: Decode) -> Found:
        """Among the runs of that length into the goal, one with fewest events (Q10), if the run is
        a shortest one, not too long for the size of the system, and the budget lasts."""
        if self.engine is not None or not found.shortest:
            return found
        if self._simplest is None or self._simplest[0] is not system:
            self._simplest = (system, {})
        depth = len(found.run.steps)
        size = depth * len(system.graph.fanins)
        if size > MOST_SIMPLIFIED:
            return found
        if size > EASY_NODES and can_have_workers():
            return self._simplified_by_worker(system, goal, found, decode)
        known = self._simplest[1]
        if depth not in known:
            known[depth] = Simplest(system, depth, self.budget)
        better = known[depth].run_into(goal, "simplest")
        return Found(decode(better), True) if isinstance(better, Reached) else found

    def _simplified_by_worker(
        self, system: System, goal: Goal, found: Found, decode: Decode
    ) -> Found:
        """Where a worker fails, the run stays as it is."""
        depth, budget = len(found.run.steps), self.budget

        def work() -> tuple[Reached | Undecided]:
            return (Simplest(system, depth, budget).run_into(goal, "simplest"),)

        better = ask(self.crew, "simplest", work, tuple[Reached | Undecided])
        if isinstance(better, Failure) or not isinstance(better[0], Reached):
            return found
        return Found(decode(better[0]), True)

    def _proven(
        self, system: System, goals: Sequence[Goal], findings: Sequence[Finding | Unsettled]
    ) -> Proven | Failure | None:
        """All proofs at once: clauses that prove several goals may be inductive only together."""
        proofs = {one.goal: one for one in findings if isinstance(one, Proved)}
        if not proofs:
            return None
        proved = tuple(goal for goal in goals if goal.name in proofs)
        accepted = tuple(proofs[goal.name] for goal in proved)
        certificate = self._certificate(system, proved, accepted)
        if isinstance(certificate, Failure):
            return certificate
        self.claims.append(Claim(system, proved, accepted, certificate.assumptions))
        return Proven(
            ", ".join(dict.fromkeys(one.engine for one in accepted)),
            certificate.clauses,
            certificate.obligations,
            certificate.assumptions,
        )

    def _certificate(
        self, system: System, goals: tuple[Goal, ...], proofs: tuple[Proved, ...]
    ) -> Certificate | Failure:
        """That of a large system is checked by a worker. Raises EvidenceError."""
        if len(system.graph.fanins) <= MOST_NODES or not can_have_workers():
            return certify_all(system, goals, proofs)

        def work() -> Certificate | str:
            try:
                return certify_all(system, goals, proofs)
            except Unchecked as silence:
                if "memory" in str(silence):
                    raise MemoryError from None
                return str(silence)
            except EvidenceError as refusal:
                return str(refusal)

        answer: Certificate | str | Failure = ask(self.crew, "check", work, Certificate | str)
        if isinstance(answer, str):
            raise EvidenceError(answer)
        return answer


def _settled(
    finding: Finding | Unsettled, proven: Proven | Failure | None, decode: Decode
) -> Settled:
    if isinstance(finding, Reached):
        return Found(decode(finding), finding.shortest)
    if isinstance(finding, Unsettled):
        return Open(finding.reason, finding.depth, finding.kinds)
    if isinstance(finding, Undecided):
        return Open(finding.reason, finding.depth)
    if isinstance(proven, Failure):
        reason = f"{finding.engine} has a proof, but the worker that was to check it {proven.words}"
        return Open(reason, -1, (proven.kind,))
    if proven is None:
        raise ValueError("a proof without a certificate")
    return proven
