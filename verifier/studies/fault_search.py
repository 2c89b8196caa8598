"""The search for all cut sets of all properties, by rising order, and what stands at any time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from msgspec import Struct, structs

from verifier.engines.crew import Crew, ask, can_have_workers
from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.engines.guards import Guards
from verifier.engines.near import CutSet
from verifier.engines.relation import Allowance, Exhausted
from verifier.engines.rounds import MOST_NODES
from verifier.engines.worker import Failure
from verifier.evidence.certificate import Certificate
from verifier.evidence.completeness import LEMMAS, Guarded, certify_guarded
from verifier.evidence.error import EvidenceError, Unchecked
from verifier.model.circuit import Circuit
from verifier.model.strikes import Strike
from verifier.report.faults import Order
from verifier.report.result import Proof
from verifier.studies.fault_questions import Question
from verifier.studies.fault_runs import Refuted, Runs, Shown, lemmas_of
from verifier.studies.inquiry import Proven
from verifier.studies.watching import Watcher
from verifier.transition.bounds import NAME
from verifier.transition.system import Finding, Goal, Lemma, Proved, Reached

SIZES = {0: "nothing failing", 1: "single faults", 2: "pairs of faults"}


class Standing:
    """What is known of one property.

    shown: cut sets with what the simulator has seen.   orders: what came of each order so far.
    """

    def __init__(self) -> None:
        self.shown: dict[CutSet, Shown] = {}
        self.orders: list[Order] = []
        self.proofs: list[Proven] = []

    @property
    def complete_to(self) -> int:
        done = [one.order for one in self.orders if one.complete]
        return max(done, default=-1)

    @property
    def tolerated(self) -> int:
        """So many faults, whichever, do not break it: those of complete orders below the first with
        a cut set; -1 if there are none."""
        least = min(map(len, self.shown), default=self.complete_to + 1)
        return min(self.complete_to, least - 1)

    def has_part_of(self, faults: CutSet) -> bool:
        """Whether some cut set is a part of these faults."""
        counts = range(len(faults) + 1)
        return any(part in self.shown for k in counts for part in combinations(faults, k))


class Search:
    """standings: by the number of the property."""

    def __init__(
        self,
        circuit: Circuit,
        strikes: Sequence[Strike],
        asked: Sequence[Question],
        order: int,
        budget: Budget,
        watcher: Watcher,
    ) -> None:
        self._circuit = circuit
        self._order = order
        self._watcher = watcher
        numbers = sorted({claim.property for question in asked for claim in question.claims})
        self.standings = {number: Standing() for number in numbers}
        self._inquiries = [
            _Inquiry(circuit, strikes, question, order, budget, self.standings)
            for question in asked
        ]

    def run(self) -> None:
        """All orders. Stops when an order cannot be completed, or somebody interrupts, and puts to
        the checker what was found by then: what stands of an order stands of all below it."""
        try:
            for count in range(self._order + 1):
                for place, inquiry in enumerate(self._inquiries, 1):
                    self._tell(SIZES.get(count, f"sets of {count} faults"), place)
                    inquiry.to_order(count)
                if not any(map(self._goes_on, self.standings)):
                    break
        finally:
            self._conclude()

    def _conclude(self) -> None:
        try:
            for place, inquiry in enumerate(self._inquiries, 1):
                self._tell("the check that there are no others", place)
                inquiry.certify()
        finally:
            reached = max((one.searched for one in self._inquiries), default=-1)
            for number, standing in self.standings.items():
                for count in range(reached + 1):
                    standing.orders.append(self._order_of(number, standing, count))

    def _tell(self, what: str, place: int) -> None:
        self._watcher.begins(self._circuit.name, what, place, len(self._inquiries))

    def _goes_on(self, number: int) -> bool:
        """Whether there is anything more to be found about a property, as far as it is known."""
        about = [one for one in self._inquiries if number in one.numbers]
        return not any(reason for one in about for reason in one.reasons(number, self._order))

    def close(self) -> None:
        for inquiry in self._inquiries:
            inquiry.close()

    def _order_of(self, number: int, standing: Standing, count: int) -> Order:
        """What came of one order, all of whose questions have been asked."""
        found = sum(len(one) == count for one in standing.shown)
        if () in standing.shown:
            return Order(count, found, complete=True)
        about = [one for one in self._inquiries if number in one.numbers]
        reasons = [reason for one in about for reason in one.reasons(number, count)]
        reasons += [one.unchecked for one in about if one.certified < count and not reasons]
        if reasons:
            return Order(count, found, complete=False, reason="; ".join(dict.fromkeys(reasons)))
        for faults in standing.shown:
            if len(faults) == count and any(
                part in standing.shown for k in range(count) for part in combinations(faults, k)
            ):
                raise EvidenceError("a cut set has a part that is one")
        proofs = [one.proof for one in about if one.proof is not None]
        standing.proofs = proofs
        clauses = sum(proof.clauses for proof in proofs)
        obligations = sum(proof.obligations for proof in proofs)
        return Order(count, found, complete=True, proof=Proof(LEMMAS, clauses, obligations))


class _Settled(Struct, frozen=True):
    """What the search claims of runs with at most `order` faults. sets: of each claim the sets of
    faults without which it stands, the goals' own first."""

    order: int
    lemmas: dict[int, tuple[Lemma, ...]]
    sets: dict[int, tuple[CutSet, ...]]


class _Inquiry:
    """One question, asked by rising order.

    searched: the last order that was.   certified: the last of which evidence accepted that all is
    known, -1 for none.   proof: what it accepted.   unchecked: why there is no more.
    """

    def __init__(
        self,
        circuit: Circuit,
        strikes: Sequence[Strike],
        question: Question,
        order: int,
        budget: Budget,
        standings: dict[int, Standing],
    ) -> None:
        self._circuit = circuit
        self._strikes = strikes
        self._question = question
        self._budget = budget
        self._standings = standings
        self._allowance = Allowance(budget.conflicts)
        self._claims: dict[int, list[int]] = {}
        for claim in question.claims:
            self._claims.setdefault(claim.property, []).append(claim.goal.bad)
        self.numbers = tuple(self._claims)
        bads = [claim.goal.bad for claim in question.claims]
        self._guards = Guards(question.system, question.faults, bads, order, self._allowance)
        self._runs = {
            number: Runs(circuit, strikes, question, number, budget) for number in self.numbers
        }
        self._open: dict[int, dict[CutSet, str]] = {number: {} for number in self.numbers}
        self._stubborn: set[tuple[int, CutSet]] = set()
        self._gave_up = ""
        self._settled: list[_Settled] = []
        self.searched = -1
        self.certified = -1
        self.proof: Proven | None = None
        self.unchecked = "interrupted before it was found out whether there are others"

    def close(self) -> None:
        self._guards.close()

    def reasons(self, number: int, count: int) -> Iterator[str]:
        """Why it is not known whether all sets of the property up to an order were found."""
        if self._gave_up and self._settled_to < count:
            yield self._gave_up
        for faults, reason in self._open[number].items():
            if len(faults) <= count and not self._standings[number].has_part_of(faults):
                names = " + ".join(self._strikes[one].name for one in faults)
                yield f"it is open whether {names} is one: {reason}"

    @property
    def _settled_to(self) -> int:
        return len(self._settled) - 1

    def to_order(self, count: int) -> None:
        """Find the sets of this order, those of the lower ones being known, and what there is to
        claim of it."""
        if self._gave_up:
            return
        self.searched = count
        self._allowance.left = self._budget.conflicts
        try:
            self._guards.settle(count)
            while self._settle_suspects():
                self._guards.settle(count)
        except Exhausted:
            self._gave_up = f"the search used up its budget of {self._budget.conflicts} conflicts"
            return
        guards = self._guards
        sets = {claim: tuple(sorted(guards.sets(claim))) for claim in guards.claims}
        self._settled.append(_Settled(count, dict(guards.lemmas), sets))

    def certify(self) -> None:
        """Put what is claimed of the last order that was settled to the checker; of the one before
        if the checker gives up."""
        for claims in reversed(self._settled):
            self._nothing_unsettled(claims)
            said = self._certificate(claims)
            if isinstance(said, Certificate):
                names = tuple(name for name in said.assumptions if name != NAME)
                clauses = len(claims.lemmas) + sum(map(len, claims.sets.values()))
                self.proof = Proven(LEMMAS, clauses, said.obligations, names)
                self.certified = claims.order
                return
            self.unchecked = said

    def _nothing_unsettled(self, claims: _Settled) -> None:
        """What is certified speaks of runs without the sets in guards, so each of them must have a
        part that is known to break the property, or be told as open. Raises EvidenceError."""
        for number, goals in self._claims.items():
            for faults in (one for goal in goals for one in claims.sets[goal]):
                if self._is_suspect(number, faults):
                    raise EvidenceError("a set of faults was left out that breaks nothing known")

    def _settle_suspects(self) -> bool:
        """Find out about all sets in guards that are not known to break anything. Whether some were
        refuted, so that guards may have to grow again."""
        refuted = False
        for number, claims in self._claims.items():
            standing = self._standings[number]
            suspects = {one for claim in claims for one in self._guards.sets(claim)}
            ordered = sorted(suspects, key=lambda one: (len(one), one))
            left = [one for one in ordered if self._is_suspect(number, one)]
            for said in self._runs[number].of(left):
                if isinstance(said, Shown):
                    standing.shown[said.faults] = said
                elif isinstance(said, Refuted):
                    self._refute(number, said)
                    refuted = True
                else:
                    self._open[number][said.faults] = said.reason
        return refuted

    def _is_suspect(self, number: int, faults: CutSet) -> bool:
        return faults not in self._open[number] and not self._standings[number].has_part_of(faults)

    def _refute(self, number: int, refuted: Refuted) -> None:
        """Take the set out of the guards; what refutes it is claimed, so that it stays out. Where
        that did not help, it is refuted again in the system with all faults."""
        again = (number, refuted.faults) in self._stubborn
        self._stubborn.add((number, refuted.faults))
        self._guards.withdraw(refuted.faults, self._broken_by(refuted.faults))
        if not again:
            self._guards.learn(lemmas_of(self._circuit, self._question, refuted))
            return
        finding = self._refuted_here(number, refuted.faults)
        if isinstance(finding, Proved):
            self._guards.learn([(lemma,) for lemma in finding.lemmas])
        elif isinstance(finding, Reached):
            raise EvidenceError("faults break it together with others that do not strike")
        else:
            self._open[number][refuted.faults] = finding.reason

    def _broken_by(self, faults: CutSet) -> list[int]:
        """Claims of properties that the faults are known to break."""
        return [
            claim
            for number, claims in self._claims.items()
            if faults in self._standings[number].shown
            for claim in claims
        ]

    def _refuted_here(self, number: int, faults: CutSet) -> Finding:
        system = self._question.system
        graph = system.graph.copy()
        others = [one for k, one in enumerate(self._question.faults.struck) if k not in faults]
        nexts = {latch.node: latch.next for latch in system.latches}
        none = graph.all(one ^ 1 for one in graph.substitute(others, nexts))
        alone = structs.replace(
            system, graph=graph, step_allowed=graph.both(system.step_allowed, none)
        )
        bad = Goal("broken", graph.any(self._claims[number]))
        return Directed().search(alone, bad, self._budget)

    def _certificate(self, claimed: _Settled) -> Certificate | str:
        """Or why there is none."""
        question, count = self._question, claimed.order
        claims: list[tuple[int, Goal | tuple[Lemma, ...]]] = [
            (claim.goal.bad, claim.goal) for claim in question.claims
        ]
        claims += claimed.lemmas.items()
        guarded = [Guarded(one, claimed.sets[bad]) for bad, one in claims]
        system, struck = question.system, question.faults.struck

        def work() -> Certificate | str:
            try:
                return certify_guarded(system, struck, count, guarded)
            except Unchecked as silence:
                # z3 takes an interrupt for itself while it works.
                if "interrupted" in str(silence):
                    raise KeyboardInterrupt from None
                return f"the checker gave up: {silence}"

        if len(system.graph.fanins) <= MOST_NODES or not can_have_workers():
            return work()
        answer: Certificate | str | Failure = ask(Crew(), "check", work, Certificate | str)
        return f"the checker {answer.words}" if isinstance(answer, Failure) else answer
