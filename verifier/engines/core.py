"""Which parts, tubes and assumptions a proof needs: the others can be let go (rule Q13).

The clauses of a proof stay what they are, but some may fall: with less that keeps to its rules,
fewer clauses are inductive, and those that are left may still be enough.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from msgspec import Struct

from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.loosening import Duty
from verifier.transition.system import Goal, Lemma, System

Item = Duty | str
"""What a proof may need: a duty of a part or tube, or an assumption by its name."""


class Claimed(Struct, frozen=True):
    """A loosened system, goals of it, and clauses that prove them while everything is kept, perhaps
    only together with more goals that are proved with them: the helpers.
    """

    system: System
    keeps: Mapping[Duty, int]
    goals: tuple[Goal, ...]
    lemmas: tuple[Lemma, ...]
    helpers: tuple[Goal, ...] = ()


class Core(Struct, frozen=True):
    """What suffices for all claims, and the clauses and helpers of each that are left. A claim
    only: evidence checks it.
    """

    items: frozenset[Item]
    lemmas: tuple[tuple[Lemma, ...], ...]
    helpers: tuple[tuple[Goal, ...], ...]


def core_of(
    claims: Sequence[Claimed], groups: Sequence[Sequence[Item]], conflicts: int
) -> Core | None:
    """None if the clauses do not prove the goals even with everything kept.

    groups: all items, in the order in which it is tried whether they can go, those together that
    are likely to be needed together or not at all. What works is not asked whether it is tight.
    """
    search = _Search(claims, groups, conflicts)
    try:
        return search.run()
    finally:
        search.close()


class _Search:
    """kept: the items that sufficed last.   sure: those of them that were found to be needed."""

    def __init__(
        self, claims: Sequence[Claimed], groups: Sequence[Sequence[Item]], conflicts: int
    ) -> None:
        self._budget = _Budget(conflicts)
        self._claims = [_Claim(claim, self._budget) for claim in claims]
        self._groups = groups
        self._kept: frozenset[Item] = frozenset(item for group in groups for item in group)
        self._sure: set[Item] = set()

    def run(self) -> Core | None:
        if not self._suffice(self._kept):
            return None
        for group in self._groups:
            left = [item for item in group if item in self._kept]
            if len(left) > 1 and self._suffice(self._kept.difference(left)):
                continue
            for item in left:
                if item in self._kept and self._is_asked(item):
                    self._let_go(item)
        lemmas = tuple(claim.lemmas_needed() for claim in self._claims)
        helpers = tuple(claim.helpers_needed() for claim in self._claims)
        return Core(self._kept, lemmas, helpers)

    def close(self) -> None:
        for claim in self._claims:
            claim.close()

    def _is_asked(self, item: Item) -> bool:
        return isinstance(item, str) or item.what == "works" or item.working not in self._kept

    def _let_go(self, item: Item) -> None:
        """If it cannot go, or the budget is spent, it stays for good."""
        if not self._suffice(self._kept - {item}):
            self._sure.add(item)
            for claim in self._claims:
                claim.demand(item)

    def _suffice(self, items: frozenset[Item]) -> bool:
        """Whether the items suffice for every claim; then what is needed of them is kept."""
        tried = [claim.tried(items) for claim in self._claims]
        found = [one for one in tried if one is not None]
        if len(found) < len(tried):
            return False
        # A claim that was not asked again does not name what became sure after it was asked.
        kept = frozenset(self._sure).union(*(one.items for one in found))
        for claim, one in zip(self._claims, found, strict=True):
            claim.accept(one, self._kept - kept)
        self._kept = kept
        return True


class _Budget:
    def __init__(self, conflicts: int) -> None:
        self.left = conflicts


Mark = int
"""A solver literal under which something is granted: that a duty is kept, that a
clause or an assumption holds, that a goal is not met."""

Asked = tuple[Mark, int]
"""That what is granted by a mark fails at the start (0), or after a step (1)."""


class _Tried(Struct, frozen=True):
    """items: those needed.   alive: clauses and assumptions that did not fall; needed: among them,
    those that the goals need.
    """

    items: frozenset[Item]
    alive: frozenset[Mark]
    needed: frozenset[Mark]


class _Claim:
    """One claim in a solver of its own.

    reasons: the marks that sufficed to refute a question, each question's last.
    """

    def __init__(self, claim: Claimed, budget: _Budget) -> None:
        self._budget = budget
        self._solver = SatSolver()
        self._gates = Gates(self._solver)
        system, true = claim.system, self._gates.true
        kept = {node: self._solver.fresh() for node in claim.keeps.values()}
        start = {latch.node: true if latch.start else -true for latch in system.latches}
        self._start = Frame(system.graph, self._gates, {**kept, **start})
        self._now = Frame(system.graph, self._gates, dict(kept))
        then = {latch.node: self._now.literal(latch.next) for latch in system.latches}
        self._then = Frame(system.graph, self._gates, {**kept, **then})
        self._solver.add([self._now.literal(system.encoding)])
        self._mark: dict[Item, Mark] = {m: kept[node] for m, node in claim.keeps.items()}
        self._failure: dict[Asked, list[int]] = {}
        states = dict(system.state_assumptions)
        for name, step in system.assumptions:
            state = states.get(name, 1)
            self._mark[name] = self._granted([[step], [state]], [state ^ 1])
        self._goals = [self._granted([[goal.bad ^ 1]], [goal.bad]) for goal in claim.goals]
        self._helpers = {self._granted([[g.bad ^ 1]], [g.bad]): g for g in claim.helpers}
        self._lemmas: dict[Mark, Lemma] = {}
        for lemma in claim.lemmas:
            clause = [2 * system.latches[i].node ^ (not positive) for i, positive in lemma]
            self._lemmas[self._granted([clause], [one ^ 1 for one in clause])] = lemma
        self._item = {mark: item for item, mark in self._mark.items()}
        assumptions = (mark for item, mark in self._mark.items() if isinstance(item, str))
        self._alive = frozenset((*self._lemmas, *self._helpers, *assumptions))
        self._last: _Tried | None = None
        self._sure: set[Mark] = set()
        self._reasons: dict[Asked, frozenset[Mark]] = {}

    def close(self) -> None:
        self._solver.close()

    def lemmas_needed(self) -> tuple[Lemma, ...]:
        return tuple(lemma for mark, lemma in self._lemmas.items() if mark in self._needed())

    def helpers_needed(self) -> tuple[Goal, ...]:
        return tuple(goal for mark, goal in self._helpers.items() if mark in self._needed())

    def _needed(self) -> frozenset[Mark]:
        return self._last.needed if self._last else frozenset()

    def demand(self, item: Item) -> None:
        """The item is needed, and granted from now on."""
        if item in self._mark:
            self._solver.add([self._mark[item]])
            self._sure.add(self._mark[item])

    def accept(self, tried: _Tried, gone: Collection[Item]) -> None:
        """The items `gone` are not needed: to let a duty go only adds to what may happen. Clauses
        that fell stay down: with less that is kept, they would fall again."""
        self._last = tried
        self._alive = tried.alive
        for mark in sorted(self._mark[item] for item in gone if item in self._mark):
            self._solver.add([-mark])

    def tried(self, items: Collection[Item]) -> _Tried | None:
        """What is needed of the items and of the clauses; None when they do not suffice."""
        if self._last is not None and self._last.items.issubset(items):
            return self._last
        granted = {self._mark[item] for item in items if item in self._mark}
        alive = {mark for mark in self._alive if mark in granted or mark not in self._item}
        allowed = granted | alive | set(self._goals)
        while True:
            needed: set[Mark] = set(self._goals)
            waiting = list(reversed(self._goals))
            fallen = False
            while waiting:
                mark = waiting.pop()
                reason = self._reason(mark, allowed)
                if reason is None and mark in self._goals:
                    return None
                if reason is None:
                    alive.discard(mark)
                    allowed.discard(mark)
                    fallen = True
                    continue
                waiting += sorted(reason & alive - needed)
                needed |= reason
            if not fallen:
                used = frozenset(self._item[mark] for mark in needed if mark in self._item)
                return _Tried(used, frozenset(alive), frozenset(needed & alive))

    def _granted(self, clauses: Sequence[Sequence[int]], failure: Sequence[int]) -> Mark:
        """A mark that grants clauses of graph literals now; they fail when all of `failure` is
        true."""
        mark = self._solver.fresh()
        for clause in clauses:
            self._solver.add([-mark, *map(self._now.literal, clause)])
        for moment, frame in enumerate((self._start, self._then)):
            self._failure[mark, moment] = [frame.literal(literal) for literal in failure]
        return mark

    def _reason(self, mark: Mark, allowed: set[Mark]) -> frozenset[Mark] | None:
        """Granted marks that keep this from failing, at the start and after a step."""
        found: frozenset[Mark] = frozenset()
        for moment in (0, 1):
            known = self._reasons.get((mark, moment))
            if known is None or not known <= allowed:
                known = self._refuted((mark, moment), allowed)
                if known is None:
                    return None
                self._reasons[mark, moment] = known
            found |= known
        return found

    def _refuted(self, asked: Asked, allowed: set[Mark]) -> frozenset[Mark] | None:
        at_start = asked[1] == 0
        helpful = sorted(
            mark
            for mark in allowed - self._sure
            if not at_start or isinstance(self._item.get(mark), Duty)
        )
        before = self._solver.work
        failure = self._failure[asked]
        answer = self._solver.solve([*failure, *helpful], max(self._budget.left, 1))
        self._budget.left -= self._solver.work - before
        if answer is not Answer.UNSAT:
            return None
        return frozenset(self._solver.core()).intersection(allowed) | self._sure
