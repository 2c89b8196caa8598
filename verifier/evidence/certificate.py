"""The check of a proof: an inductive invariant, its obligations put to a fresh solver.

The invariant is the conjunction of the proposed clauses, of "not bad" for every goal, and of what
the assumptions in use say of a state. Obligations: no goal and no breach at the start; none after
an allowed step from a state of the invariant; and the steps considered include all allowed ones.
Nothing that an engine says is taken on trust: neither that its clauses are inductive, nor that they
imply the goal.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from verifier.evidence.error import EvidenceError
from verifier.evidence.script import FreshSolver, Moments, conjunction, disjunction, negated
from verifier.transition.system import Goal, Lemma, Proved, System


class Certificate(Struct, frozen=True):
    """What was discharged. goals: their names.   clauses: of the invariant, "not bad" not counted.
    obligations: questions to the solver that all had to be unsatisfiable.
    assumptions: names of the design's assumptions that the proof needs, in the design's order.
    """

    goals: tuple[str, ...]
    clauses: int
    obligations: int
    assumptions: tuple[str, ...]


class Question(Struct, frozen=True):
    """Something that must be impossible. `switch` turns it on.

    during: it is about a step from a state of the invariant, so the assumptions may help; else it
    is about the start, where nothing helps.
    """

    switch: str
    words: str
    during: bool


class Obligations(Struct, frozen=True):
    """A script, in SMT-LIB, and the questions to it.

    questions: always to be refuted.   conditional: to be refuted if assumption k is in use.
    hypotheses: the switch of assumption k, and its name.
    """

    lines: tuple[str, ...]
    questions: tuple[Question, ...]
    conditional: tuple[tuple[Question, ...], ...]
    hypotheses: tuple[tuple[str, str], ...]


def certify(system: System, goal: Goal, proved: Proved) -> Certificate:
    """Check the proof of one goal. Raises EvidenceError if it does not stand, Unchecked if the
    solver gives up."""
    return certify_all(system, [goal], [proved])


def certify_all(system: System, goals: Sequence[Goal], proofs: Sequence[Proved]) -> Certificate:
    """Check the proofs of several goals together, one proof for each goal and in the same order."""
    if [goal.name for goal in goals] != [proved.goal for proved in proofs]:
        raise EvidenceError("the proofs are not those of the goals")
    lemmas = tuple(sorted({lemma for proved in proofs for lemma in proved.lemmas}))
    posed = obligations(system, goals, lemmas)
    solver = FreshSolver(posed.lines, only_answers=not posed.hypotheses)
    used = _needed(posed, solver)
    count = len(posed.questions) + sum(len(posed.conditional[k]) for k in used)
    names = tuple(posed.hypotheses[k][1] for k in used if posed.hypotheses[k][1])
    return Certificate(tuple(goal.name for goal in goals), len(lemmas), count, names)


def obligations(system: System, goals: Sequence[Goal], lemmas: Sequence[Lemma]) -> Obligations:
    """The obligations of the claim that the lemmas prove the goals."""
    at = Moments(system)
    at.switch("during")
    pose = _Poser(at)
    parts = [at.now.term(part) for part in (system.encoding, *(a for _, a in system.assumptions))]
    at.demand(f"(=> during {parts[0]})")
    whole = at.now.term(system.step_allowed)
    questions = [pose.ask(conjunction([whole, negated(conjunction(parts))]), "parts of a step")]
    for goal in goals:
        at.demand(f"(=> during {negated(at.now.term(goal.bad))})")
        questions += pose.both(at.start.term(goal.bad), at.then.term(goal.bad), goal.name)
    for lemma in lemmas:
        at.demand(f"(=> during {at.now.lemma(system, lemma)})")
    if lemmas:
        breaks = [
            disjunction(negated(moment.lemma(system, lemma)) for lemma in lemmas)
            for moment in (at.start, at.then)
        ]
        questions += pose.both(breaks[0], breaks[1], "clauses")
    conditional: list[tuple[Question, ...]] = []
    hypotheses: list[tuple[str, str]] = []
    for k, (name, step, state) in enumerate(_assumptions(system)):
        at.switch(f"use{k}")
        at.demand(f"(=> use{k} {conjunction(map(at.now.term, (step, state)))})")
        hypotheses.append((f"use{k}", name))
        breaks = [negated(moment.term(state)) for moment in (at.start, at.then)]
        conditional.append(tuple(pose.both(breaks[0], breaks[1], f"assumption {name}")))
    return Obligations(tuple(at.lines), tuple(questions), tuple(conditional), tuple(hypotheses))


class _Poser:
    """Numbers the questions."""

    def __init__(self, at: Moments) -> None:
        self._at = at
        self._count = 0

    def ask(self, term: str, words: str, during: bool = False) -> Question:
        switch = f"ask{self._count}"
        self._count += 1
        self._at.switch(switch)
        self._at.demand(f"(=> {switch} {term})")
        if during:
            self._at.demand(f"(=> {switch} during)")
        return Question(switch, words, during)

    def both(self, start: str, then: str, words: str) -> list[Question]:
        """What must be impossible at the start and after a step."""
        first = self.ask(start, f"{words}: at the start")
        return [first, self.ask(then, f"{words}: after a step", during=True)]


def _assumptions(system: System) -> list[tuple[str, int, int]]:
    """Name, literal of steps and literal of states of each assumption. What a system demands of its
    states without saying for which assumption stands last, without a name."""
    states = dict(system.state_assumptions)
    rows = [(name, literal, states.pop(name, 1)) for name, literal in system.assumptions]
    if states:
        raise EvidenceError(f"assumptions {sorted(states)} speak of states only")
    if not system.state_assumptions and system.state_allowed != 1:
        rows.append(("", 1, system.state_allowed))
    return rows


def _needed(posed: Obligations, solver: FreshSolver) -> list[int]:
    """Discharge everything; indices of the assumptions without which that would not go.

    An assumption in use brings obligations of its own: what it says of states must hold at the
    start and be kept.
    """
    index = {switch: k for k, (switch, _) in enumerate(posed.hypotheses)}
    every = range(len(posed.hypotheses))
    waiting = list(posed.questions)
    used: set[int] = set()
    while waiting:
        question = waiting.pop(0)
        if _possible(posed, solver, question, every):
            raise EvidenceError(f"the proof does not stand: {question.words}")
        for k in sorted(index[name] for name in solver.used() if name in index):
            if k not in used:
                used.add(k)
                waiting += posed.conditional[k]
    for k in sorted(used):
        fewer = sorted(used - {k})
        questions = [*posed.questions, *(one for j in fewer for one in posed.conditional[j])]
        if not any(_possible(posed, solver, question, fewer) for question in questions):
            used.remove(k)
    return sorted(used)


def _possible(
    posed: Obligations, solver: FreshSolver, question: Question, used: Iterable[int]
) -> bool:
    helpful = [posed.hypotheses[k][0] for k in used] if question.during else []
    return solver.satisfiable([question.switch, *helpful])
