"""Guessing: the clauses of one or two latches that a sample of runs and every step respect."""

from __future__ import annotations

from itertools import combinations
from random import Random

from verifier.engines.engine import Budget
from verifier.engines.slice import Slice, slice_of
from verifier.engines.trim import trim
from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.z3_door import Z3Solver
from verifier.transition.system import Finding, Goal, Lemma, Proved, System, Undecided

RUNS = 64
STEPS = 40
MOST_LATCHES = 120


class Pairs:
    """Proves what follows from implications between two latches; cannot find runs."""

    name = "pairs"

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        part = slice_of(system, [goal.bad])
        if len(part.latches) > MOST_LATCHES:
            reason = f"more than {MOST_LATCHES} state bits have too many pairs"
            return Undecided(goal.name, reason, -1, self.name)
        guesses = _Guesses(system, part, goal.bad, _candidates(part, sample(system, part)))
        answer = guesses.settle(budget.conflicts)
        if answer is Answer.UNKNOWN:
            reason = f"used up its budget of {budget.conflicts} conflicts"
            return Undecided(goal.name, reason, -1, self.name)
        if answer is Answer.SAT:
            reason = "clauses of two state bits do not suffice"
            return Undecided(goal.name, reason, -1, self.name)
        lemmas = trim(system, part, guesses.lemmas(), [goal.bad])
        return Proved(goal.name, lemmas, self.name)


def sample(system: System, part: Slice) -> dict[int, int]:
    """For each latch of the slice a word: bit k is its value in the k-th of some reached states.

    The same on every run: the choices are drawn by a generator with a fixed seed.
    """
    random = Random(0)
    full = (1 << RUNS) - 1
    latches = {i: system.latches[i] for i in part.latches}
    words = {i: full if latch.start else 0 for i, latch in latches.items()}
    seen = dict(words)
    roots = [*(latch.next for latch in latches.values()), *part.step_allowed]
    for step in range(1, STEPS):
        values = {choice.node: random.getrandbits(RUNS) for choice in system.choices}
        values.update({latches[i].node: word for i, word in words.items()})
        after = system.graph.words(roots, values, RUNS)
        allowed = full
        for word in after[len(latches) :]:
            allowed &= word
        # A run whose draw is not allowed stays where it is.
        for i, word in zip(latches, after, strict=False):
            words[i] = word & allowed | words[i] & ~allowed
            seen[i] |= words[i] << RUNS * step
    return seen


def _candidates(part: Slice, seen: dict[int, int]) -> list[Lemma]:
    """Clauses of one or two latches that the whole sample satisfies, the weaker ones left out."""
    full = (1 << RUNS * STEPS) - 1
    literals = [(i, sign) for i in part.latches for sign in (False, True)]
    true = {(i, sign): seen[i] if sign else seen[i] ^ full for i, sign in literals}
    units = [literal for literal in literals if true[literal] == full]
    found: list[Lemma] = [(literal,) for literal in units]
    rest = [literal for literal in literals if literal not in units]
    found += [
        (a, b) for a, b in combinations(rest, 2) if a[0] != b[0] and true[a] | true[b] == full
    ]
    return found


class _Guesses:
    """Candidates in z3, each with a switch, and with a mark that is true if a step breaks it."""

    def __init__(self, system: System, part: Slice, bad: int, candidates: list[Lemma]) -> None:
        self._solver = solver = Z3Solver()
        self._candidates = dict(enumerate(candidates))
        frame = Frame(system.graph, Gates(solver), {})
        for literal in (*part.step_allowed, *part.state_allowed):
            solver.add([frame.literal(literal)])
        self._bad = frame.literal(bad)
        self._switches = [solver.fresh() for _ in candidates]
        self._marks = [solver.fresh() for _ in candidates]
        latches = system.latches
        for k, lemma in enumerate(candidates):
            now = [frame.literal(2 * latches[i].node ^ (not sign)) for i, sign in lemma]
            then = [frame.literal(latches[i].next ^ (not sign)) for i, sign in lemma]
            solver.add([-self._switches[k], *now])
            for literal in then:
                solver.add([-self._marks[k], -literal])

    def settle(self, conflicts: int) -> Answer:
        """Drop what is not kept until the rest is; then, does the rest exclude the goal (UNSAT)?"""
        solver = self._solver
        while self._candidates:
            # Switching the marks of a round on is a clause that only this round's literal demands.
            broken = solver.fresh()
            solver.add([-broken, *(self._marks[k] for k in self._candidates)])
            held = [self._switches[k] for k in self._candidates]
            answer = solver.solve([broken, *held], conflicts - solver.work)
            if answer is Answer.UNKNOWN:
                return answer
            if answer is Answer.UNSAT:
                break
            gone = [k for k in self._candidates if solver.value(self._marks[k])]
            for k in gone:
                del self._candidates[k]
        held = [self._switches[k] for k in self._candidates]
        return solver.solve([self._bad, *held], conflicts - solver.work)

    def lemmas(self) -> list[Lemma]:
        return list(self._candidates.values())
