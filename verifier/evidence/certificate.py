"""The check of a proof: an inductive invariant, its obligations put to a fresh solver.

The invariant is the conjunction of the proposed clauses, of "not bad" for every goal, and of what
the assumptions in use say of a state. Obligations: no goal and no breach at the start; none after
an allowed step from a state of the invariant; and the steps considered include all allowed ones.
Nothing that an engine says is taken on trust: neither that its clauses are inductive, nor that they
imply the goal.

Many obligations are put as one question, whether any of them can fail. A question that is too hard
so is put by cases, and one that fails is put obligation by obligation, to name the one at fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from verifier.evidence.clauses import ClauseJudge, Clauses, Moment
from verifier.evidence.error import EvidenceError, Unchecked
from verifier.evidence.gathering import Branch, gathered
from verifier.evidence.script import MOST_CONFLICTS
from verifier.solving.answer import Answer
from verifier.transition.system import Goal, Lemma, Proved, System

# Conflicts after which a question is put by cases, if it has any.
AT_ONCE = 1_000


class Certificate(Struct, frozen=True):
    """What was discharged. goals: their names.   clauses: of the invariant, "not bad" not counted.
    obligations: what had to be impossible: each goal, a breach of the clauses and of each
    assumption used, at the start and after a step, and a step that is wider than its parts.
    assumptions: names of the design's assumptions that the proof needs, in the design's order.
    """

    goals: tuple[str, ...]
    clauses: int
    obligations: int
    assumptions: tuple[str, ...]


def certify(system: System, goal: Goal, proved: Proved) -> Certificate:
    """Check the proof of one goal. Raises EvidenceError if it does not stand, Unchecked if the
    solver gives up."""
    return certify_all(system, [goal], [proved])


def certify_all(
    system: System,
    goals: Sequence[Goal],
    proofs: Sequence[Proved],
    parts: Sequence[int] = (),
) -> Certificate:
    """Check the proofs of several goals together, one proof for each goal and in the same order.

    parts: how many goals, one after the other, are best asked about at once; all by default.
    """
    if [goal.name for goal in goals] != [proved.goal for proved in proofs]:
        raise EvidenceError("the proofs are not those of the goals")
    if sum(parts) not in (0, len(goals)):
        raise EvidenceError("the parts are not those of the goals")
    lemmas = tuple(sorted({lemma for lemmas in _distinct(proofs) for lemma in lemmas}))
    check = _Check(system, goals, lemmas, parts or (len(goals),))
    check.beginning()
    used = check.needed()
    count = 1 + 2 * len(goals) + 2 * bool(lemmas) + 2 * len(used)
    names = tuple(name for k, (name, _, _) in enumerate(check.assumptions) if k in used and name)
    return Certificate(tuple(goal.name for goal in goals), len(lemmas), count, names)


def _distinct(proofs: Sequence[Proved]) -> Iterator[tuple[Lemma, ...]]:
    """The clauses of all proofs; those that many share, once."""
    return iter({id(proved.lemmas): proved.lemmas for proved in proofs}.values())


def assumptions_of(system: System) -> list[tuple[str, int, int]]:
    """Name, literal of steps and literal of states of each assumption. What a system demands of its
    states without saying for which assumption stands last, without a name."""
    states = dict(system.state_assumptions)
    rows = [(name, literal, states.pop(name, 1)) for name, literal in system.assumptions]
    if states:
        raise EvidenceError(f"assumptions {sorted(states)} speak of states only")
    if not system.state_assumptions and system.state_allowed != 1:
        rows.append(("", 1, system.state_allowed))
    return rows


class _Check:
    """The obligations of one claim, and the solver that judges what may happen in a step."""

    def __init__(
        self, system: System, goals: Sequence[Goal], lemmas: Sequence[Lemma], parts: Sequence[int]
    ) -> None:
        self._system = system
        self._lemmas = lemmas
        self.assumptions = assumptions_of(system)
        self._goals: list[Sequence[Goal]] = []
        for count in parts:
            done = sum(map(len, self._goals))
            self._goals.append(goals[done : done + count])
        self._branches = [gathered(system.graph, [g.bad for g in some]) for some in self._goals]
        self._lay_out()

    def beginning(self) -> None:
        """No goal and no breach at the start; and no step that is wider than its parts, for else
        a proof could use what no step has to satisfy."""
        system = self._system
        clauses = Clauses()
        nodes = [*(latch.node for latch in system.latches), *(c.node for c in system.choices)]
        step = Moment(system.graph, clauses, {node: clauses.fresh() for node in nodes})
        whole, narrow = step.literal(system.step_allowed), Clauses.TRUE
        for part in (system.encoding, *(literal for _, literal, _ in self.assumptions)):
            narrow = clauses.both(narrow, step.literal(part))
        start = {
            latch.node: Clauses.TRUE if latch.start else -Clauses.TRUE for latch in system.latches
        }
        at = Moment(system.graph, clauses, start)
        wide = clauses.both(whole, -narrow)
        failures = [wide, *(branch.value(at) for branch in self._branches), *self._breaches(at)]
        clauses.demand(failures)
        judge = ClauseJudge(clauses, only_answers=True)
        if self._answer(judge, [], MOST_CONFLICTS) is Answer.SAT:
            if self._answer(judge, [wide], MOST_CONFLICTS) is Answer.SAT:
                raise EvidenceError("the proof does not stand: parts of a step")
            clauses = Clauses()
            at = Moment(system.graph, clauses, start)
            self._blame(ClauseJudge(clauses, only_answers=True), at, [], "at the start")

    def needed(self) -> set[int]:
        """Discharge everything; indices of the assumptions without which that would not go.

        An assumption in use brings obligations of its own: what it says of states must hold at the
        start and be kept.
        """
        every = range(len(self.assumptions))
        used: set[int] = set()
        waiting = list(self._failures)
        while waiting:
            core = self._refute(*waiting.pop(0), every)
            for k in sorted(core - used):
                used.add(k)
                waiting.append(self._kept(k))
        for k in sorted(used):
            fewer = sorted(used - {k})
            failures = [*self._failures, *(self._kept(j) for j in fewer)]
            if not any(self._possible(prefix, branch, fewer) for prefix, branch in failures):
                used.remove(k)
        return used

    def _lay_out(self) -> None:
        """The states of the invariant, the allowed steps, and the states after them."""
        system, clauses = self._system, Clauses()
        nodes = [*(latch.node for latch in system.latches), *(c.node for c in system.choices)]
        self._now = now = Moment(system.graph, clauses, {node: clauses.fresh() for node in nodes})
        clauses.demand([now.literal(system.encoding)])
        for branch in self._branches:
            clauses.demand([-branch.value(now)])
        for lemma in self._lemmas:
            clauses.demand(self._clause(now, lemma))
        self._uses = [clauses.fresh() for _ in self.assumptions]
        for use, (_, step, state) in zip(self._uses, self.assumptions, strict=True):
            clauses.demand([-use, now.literal(step)])
            clauses.demand([-use, now.literal(state)])
        after = {latch.node: now.literal(latch.next) for latch in system.latches}
        self._then = then = Moment(system.graph, clauses, after)
        self._values = {}
        # What may not happen: literals that are true in it, and a branch that tells it by cases.
        self._failures: list[tuple[list[int], Branch | None]] = []
        for branch in self._branches:
            self._failures.append(([branch.value(then)], branch))
        breach = -Clauses.TRUE
        for one in self._breaches(then):
            breach = clauses.either(breach, one)
        if self._lemmas:
            self._failures.append(([breach], None))
        self._lost = [then.literal(state) for _, _, state in self.assumptions]
        self._judge = ClauseJudge(clauses, only_answers=not self.assumptions)
