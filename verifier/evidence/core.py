"""The checks of a proof core (rule Q13): the proof again, with no more granted than the core; and
runs that show that less than the core is not enough.

Whether anything outside the core does its duty is left open, and what is let go does anything that
the loosened system has it do, at every moment anew.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from msgspec import Struct

from verifier.evidence.error import EvidenceError
from verifier.evidence.script import FreshSolver, Terms, conjunction, disjunction, negated
from verifier.transition.loosening import Duty
from verifier.transition.system import Goal, Lemma, System


class CoreClaim(Struct, frozen=True):
    """That duties and assumptions, with clauses, suffice to prove goals of a loosened system.

    keeps, free: as in verifier.transition.loose.Loose.   assumptions: by name.
    """

    system: System
    keeps: Mapping[Duty, int]
    free: Sequence[int]
    goals: Sequence[Goal]
    lemmas: Sequence[Lemma]
    duties: Collection[Duty]
    assumptions: Collection[str]


def certify_core(claim: CoreClaim) -> int:
    """The number of obligations that a fresh solver discharged. Raises EvidenceError if one does
    not stand, Unchecked if the solver gives up."""
    if not set(claim.duties) <= set(claim.keeps):
        raise EvidenceError("a proof core has duties that nothing has")
    if not set(claim.assumptions) <= {name for name, _ in claim.system.assumptions}:
        raise EvidenceError("a proof core has assumptions that the design does not make")
    script = _Script(claim)
    solver = FreshSolver(script.lines)
    for switch, words in script.questions.items():
        if solver.satisfiable([switch]):
            raise EvidenceError(f"the proof core does not suffice: {words}")
    return len(script.questions)


def check_spoilt(
    claim: CoreClaim, missing: Duty | str, goals: Sequence[Goal], moments: Sequence[frozenset[int]]
) -> None:
    """Raises EvidenceError unless this is a run of the loosened system into one of the goals, in
    which all of the core is granted but one duty or assumption.

    moments: the input nodes that are true at each moment.
    """
    system = claim.system
    latches = [2 * latch.node for latch in system.latches]
    granted = {claim.keeps[duty] for duty in claim.duties if duty != missing}
    names = [name for name in claim.assumptions if name != missing]
    states = [literal for name, literal in system.state_assumptions if name in names]
    steps = [literal for name, literal in system.assumptions if name in names]
    asked = [*latches, *(latch.next for latch in system.latches), system.encoding, *steps, *states]
    count, after = len(latches), [latch.start for latch in system.latches]
    for number, true in enumerate(moments):
        told = system.graph.evaluate(asked, dict.fromkeys(true, True))
        allowed = (
            told[2 * count :] if number + 1 < len(moments) else told[len(asked) - len(states) :]
        )
        if told[:count] != after or not all(allowed) or not granted <= true:
            raise EvidenceError(f"{missing}: no run shows that the core needs it")
        after = told[count : 2 * count]
    last = dict.fromkeys(moments[-1], True) if moments else {}
    if not any(system.graph.evaluate([goal.bad for goal in goals], last)):
        raise EvidenceError(f"{missing}: the run does not show that the core needs it")


class _Script:
    """questions: each switch with what would be possible if it could be true."""

    def __init__(self, claim: CoreClaim) -> None:
        self.lines: list[str] = []
        self.questions: dict[str, str] = {}
        self._claim = claim
        system = claim.system
        kept = set(claim.duties)
        duties = {
            node: "true" if duty in kept else self._declared(f"d{node}")
            for duty, node in claim.keeps.items()
        }
        start = {latch.node: "true" if latch.start else "false" for latch in system.latches}
        state = {latch.node: self._declared(f"s{latch.node}") for latch in system.latches}
        step = {choice.node: self._declared(f"c{choice.node}") for choice in system.choices}
        self._start = self._terms("b", {**duties, **start})
        self._now = self._terms("n", {**duties, **state, **step})
        then = {latch.node: self._now.term(latch.next) for latch in system.latches}
        self._then = self._terms("m", {**duties, **then})
        self._lines_of_proof()

    def _terms(self, prefix: str, inputs: dict[int, str]) -> Terms:
        """A moment, with its own values of what is let go."""
        free = {node: self._declared(f"{prefix}f{node}") for node in self._claim.free}
        return Terms(self._claim.system.graph, self.lines, prefix, {**inputs, **free})

    def _declared(self, name: str) -> str:
        self.lines.append(f"(declare-const {name} Bool)")
        return name

    def _lines_of_proof(self) -> None:
        """What must be impossible at the start, and after a step from a state of the invariant."""
        claim, system = self._claim, self._claim.system
        during = [self._now.term(system.encoding)]
        for words, failing in (
            ("a goal", [goal.bad for goal in claim.goals]),
            ("an assumption", [literal ^ 1 for literal in self._assumed_states()]),
        ):
            during += (negated(self._now.term(literal)) for literal in failing)
            at_start, after = (
                disjunction(moment.term(literal) for literal in failing)
                for moment in (self._start, self._then)
            )
            self._pose(words, at_start, after)
        during += (self._now.term(step) for step in self._assumed_steps())
        during += (self._now.lemma(system, lemma) for lemma in claim.lemmas)
        at_start, after = (
            disjunction(negated(moment.lemma(system, lemma)) for lemma in claim.lemmas)
            for moment in (self._start, self._then)
        )
        self._pose("a clause", at_start, after)
        self.lines.append(f"(assert (=> during {conjunction(during)}))")

    def _assumed_states(self) -> list[int]:
        claim = self._claim
        return [
            literal for name, literal in claim.system.state_assumptions if name in claim.assumptions
        ]

    def _assumed_steps(self) -> list[int]:
        claim = self._claim
        return [literal for name, literal in claim.system.assumptions if name in claim.assumptions]

    def _pose(self, words: str, at_start: str, after: str) -> None:
        if not self.questions:
            self._declared("during")
        for term, when in ((at_start, "at the start"), (after, "after a step")):
            switch = self._declared(f"ask{len(self.questions)}")
            demands = [term] if when == "at the start" else [term, "during"]
            self.lines.append(f"(assert (=> {switch} {conjunction(demands)}))")
            self.questions[switch] = f"{words} fails, {when}"
