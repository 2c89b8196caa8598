"""The invariant that a proof claims, and its obligations that are about one moment only."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.evidence.clauses import TRUE, ClauseJudge, Clauses, Moment
from verifier.evidence.error import EvidenceError
from verifier.evidence.gathering import gathered
from verifier.transition.system import Goal, Lemma, System


class Assumed(Struct, frozen=True):
    """What an assumption demands of a step, and of a state, as graph literals. What a system
    demands of its states without saying for which assumption has no name."""

    name: str
    step: int
    state: int


class Invariant:
    """`condition` is false, no lemma is broken, and the assumptions in use have their way.

    condition: true in every state in which a goal is.   bads: literals of the goals, each once.
    """

    def __init__(self, system: System, goals: Sequence[Goal], lemmas: Sequence[Lemma]) -> None:
        self.system = system
        self.goals = goals
        self.lemmas = lemmas
        self.assumptions = _assumptions(system)
        self.bads = list(dict.fromkeys(goal.bad for goal in goals))
        self.condition = gathered(system.graph, self.bads)
        self._latches = {latch.node: latch for latch in system.latches}
        self._inputs = {*self._latches, *(choice.node for choice in system.choices)}

    def any_moment(self, clauses: Clauses) -> Moment:
        """Any state, and any choice of a step."""

        def value_of(node: int) -> int:
            if node not in self._inputs:
                raise self._strange(node)
            return clauses.fresh()

        return Moment(self.system.graph, clauses, value_of)

    def start(self, clauses: Clauses) -> Moment:
        def value_of(node: int) -> int:
            if node not in self._latches:
                raise self._strange(node)
            return TRUE if self._latches[node].start else -TRUE

        return Moment(self.system.graph, clauses, value_of)

    def after(self, now: Moment) -> Moment:
        """The state after a step."""

        def value_of(node: int) -> int:
            if node not in self._latches:
                raise self._strange(node)
            return now.literal(self._latches[node].next)

        return Moment(self.system.graph, now.clauses, value_of)

    def clause(self, moment: Moment, lemma: Lemma) -> list[int]:
        """The literals of a lemma. Raises EvidenceError for latches that do not exist."""
        latches, found = self.system.latches, []
        for index, positive in lemma:
            if not 0 <= index < len(latches):
                raise EvidenceError(f"a clause speaks of latch {index}, which does not exist")
            found.append(moment.literal(2 * latches[index].node ^ (not positive)))
        return found

    def broken(self, moment: Moment) -> int:
        """A literal that is true exactly when a lemma is not."""
        clauses, value = moment.clauses, -TRUE
        for lemma in self.lemmas:
            breach = TRUE
            for literal in self.clause(moment, lemma):
                breach = clauses.both(breach, -literal)
            value = clauses.either(value, breach)
        return value

    def _strange(self, node: int) -> EvidenceError:
        return EvidenceError(f"input {self.system.graph.names[node]!r} has no meaning here")


def check_gathered(claim: Invariant) -> None:
    """No goal is true where the condition is not. What both are made of may be anything, so that
    the question is small."""
    clauses = Clauses()
    cut = {node: clauses.fresh() for node in claim.condition.nodes()}
    moment = Moment(claim.system.graph, clauses, lambda node: clauses.fresh(), cut)
    clauses.demand([-claim.condition.value(moment)])
    clauses.demand([moment.literal(bad) for bad in claim.bads])
    if ClauseJudge(clauses, only_answers=True).possible([]):
        raise EvidenceError("the proof does not stand: a goal was left out")


def check_start(claim: Invariant) -> None:
    """No goal is true and no clause is broken. What an assumption says is checked if it is used."""
    clauses = Clauses()
    moment = claim.start(clauses)
    faults = [(moment.literal(goal.bad), goal.name) for goal in claim.goals]
    faults.append((claim.condition.value(moment), "the goals"))
    faults.append((claim.broken(moment), "clauses"))
    refuse_any(clauses, [(literal, f"{words}: at the start") for literal, words in faults])


def check_parts(claim: Invariant) -> None:
    """No step is wider than its parts, else a proof could use what no step has to satisfy."""
    system, clauses = claim.system, Clauses()
    moment, narrow = claim.any_moment(clauses), TRUE
    for part in (system.encoding, *(one.step for one in claim.assumptions)):
        narrow = clauses.both(narrow, moment.literal(part))
    wide = clauses.both(moment.literal(system.step_allowed), -narrow)
    refuse_any(clauses, [(wide, "parts of a step")])


def refuse_any(clauses: Clauses, faults: Sequence[tuple[int, str]]) -> None:
    """Raises EvidenceError, in the words of the first one that is possible, if one is."""
    one = clauses.some(literal for literal, _ in faults)
    judge = ClauseJudge(clauses, only_answers=True)
    if judge.possible([one]):
        words = next((words for literal, words in faults if judge.possible([literal])), "at once")
        raise EvidenceError(f"the proof does not stand: {words}")


def _assumptions(system: System) -> list[Assumed]:
    """In the order of the design; what has no name stands last."""
    states = dict(system.state_assumptions)
    rows = [Assumed(name, step, states.pop(name, 1)) for name, step in system.assumptions]
    if states:
        raise EvidenceError(f"assumptions {sorted(states)} speak of states only")
    if not system.state_assumptions and system.state_allowed != 1:
        rows.append(Assumed("", 1, system.state_allowed))
    return rows
