"""What holds as long as no faults, or not all of certain sets of them, have struck.

A claim is that some literal over the latches is false. With faults most claims fail, so each gets a
guard: sets of faults, and it is claimed only where none of them has struck as a whole. Guards begin
empty and grow by whatever a step can break, by rising number of faults, until all claims together
are inductive. So they name every cut set; what they name too much is for others to find out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

from verifier.engines.gates import Cases, ones
from verifier.engines.near import CutSet
from verifier.engines.relation import Allowance
from verifier.engines.slice import conjuncts
from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.system import Lemma, System


class Faults:
    """Where a system has its faults.

    struck: for each the literal over the latches that it has struck.   latches, codes: numbers and
    nodes of all its latches.   choices: the nodes of the choices that only it has, the one that it
    moves first.
    """

    def __init__(
        self,
        struck: Sequence[int],
        latches: Sequence[tuple[int, ...]],
        codes: Sequence[tuple[int, ...]],
        choices: Sequence[tuple[int, ...]],
    ) -> None:
        self.struck = tuple(struck)
        self.latches = tuple(latches)
        self.codes = tuple(codes)
        self.choices = tuple(choices)
        self.own = frozenset(node for nodes in (*codes, *choices) for node in nodes)


class Guard:
    """Sets none of which contains another."""

    def __init__(self) -> None:
        self.sets: set[CutSet] = set()

    def met(self, faults: CutSet) -> bool:
        """Whether some set is a part of these faults."""
        return any(
            part in self.sets
            for count in range(len(faults) + 1)
            for part in combinations(faults, count)
        )


class Guards:
    """Claims about one system and their guards.

    claims: graph literals that are claimed to be false; false at the start.   lemmas: the
    clauses behind each of those that were learned.
    """

    def __init__(
        self,
        system: System,
        faults: Faults,
        claims: Sequence[int],
        most: int,
        allowance: Allowance,
    ) -> None:
        """most: so many faults will be asked about at most."""
        self.claims: list[int] = []
        self.lemmas: dict[int, tuple[Lemma, ...]] = {}
        self._system = system
        self._faults = faults
        self._most = most
        self._allowance = allowance
        self._graph = system.graph.copy()
        self._nexts = {latch.node: latch.next for latch in system.latches}
        self._replaced = {0: 0, **self._nexts}
        self._struck_after = self._after(faults.struck)
        self._allowed = (
            *conjuncts(self._graph, system.step_allowed),
            *conjuncts(self._graph, system.state_allowed),
        )
        self._guards: dict[int, Guard] = {}
        self._claims_after: dict[int, int] = {}
        self._begin()
        self.claim(claims)

    def sets(self, claim: int) -> frozenset[CutSet]:
        return frozenset(self._guards[claim].sets)

    def claim(self, literals: Iterable[int]) -> None:
        """Claim more."""
        new = [one for one in dict.fromkeys(literals) if one not in self._guards]
        for one, after in zip(new, self._after(new), strict=True):
            self.claims.append(one)
            self._guards[one] = Guard()
            self._claims_after[one] = after
            self._put_claim(one)
        self._put_any()
        self._cases = Cases(
            self._graph,
            [*self.claims, *self._claims_after.values(), *self._struck_after, *self._allowed],
        )

    def learn(self, lemmas: Iterable[tuple[Lemma, ...]]) -> None:
        """Claim that clauses are never broken, some of them together as one claim."""
        graph, latches = self._graph, self._system.latches
        found = []
        for some in lemmas:
            broken = graph.any(
                graph.all(2 * latches[i].node ^ positive for i, positive in lemma) for lemma in some
            )
            self.lemmas.setdefault(broken, some)
            found.append(broken)
        self.claim(found)

    def withdraw(self, faults: CutSet, certain: Iterable[int]) -> None:
        """Take a set out of all guards but those of claims that it certainly breaks. Where it does
        break something, it comes back."""
        certain = set(certain)
        for claim, guard in self._guards.items():
            if faults in guard.sets and claim not in certain:
                guard.sets.discard(faults)
                self._put_claim(claim)
        self._put_any()

    def settle(self, count: int) -> None:
        """Let guards grow until no step of runs with at most so many faults breaks a claim. Raises
        Exhausted."""
        for lower in range(count + 1):
            self._settle(lower)

    def _settle(self, count: int) -> None:
        """The same, once it is done for less."""
        solver = self._solver
        while True:
            given = [self._any, self._at_most[count], *(-one for one in self._open.values())]
            if self._allowance.ask(solver, given) is Answer.UNSAT:
                return
            self._grow()

    def close(self) -> None:
        self._solver.close()

    def _after(self, literals: Sequence[int]) -> list[int]:
        """The literals after a step."""
        return self._graph.replace(literals, self._replaced)

    def _begin(self) -> None:
        self._solver = SatSolver()
        self._gates = Gates(self._solver)
        self._now = Frame(self._graph, self._gates, {})
        for literal in self._allowed:
            self._solver.add([self._now.literal(literal)])
        self._struck = [self._now.literal(one) for one in self._faults.struck]
        self._then_struck = [self._now.literal(one) for one in self._struck_after]
        self._at_most = self._counts()
        # For each claim a literal that a step breaks it in spite of its guard, and one that it is
        # broken before the step without any set told so far, which is assumed to be false.
        self._switch: dict[int, int] = {}
        self._open: dict[int, int] = {}
        self._known: dict[CutSet, int] = {}

    def _counts(self) -> list[int]:
        """For each number up to the most: a literal that no more faults have struck after the
        step."""
        both, true = self._gates.both, self._gates.true
        more = [true] + [-true] * (self._most + 1)
        for one in self._then_struck:
            for k in range(self._most + 1, 0, -1):
                more[k] = -both(-more[k], -both(more[k - 1], one))
        return [-one for one in more[1:]]

    def _put_claim(self, claim: int) -> None:
        """Tell the solver of a claim and all of its guard, in the place of what it was told."""
        solver = self._solver
        self._open[claim], self._switch[claim] = solver.fresh(), solver.fresh()
        solver.add([-self._now.literal(claim), self._open[claim]])
        solver.add([-self._switch[claim], self._now.literal(self._claims_after[claim])])
        for faults in sorted(self._guards[claim].sets):
            self._put_set(claim, faults)

    def _put_set(self, claim: int, faults: CutSet) -> None:
        solver = self._solver
        longer = solver.fresh()
        solver.add([-self._open[claim], self._all_struck(faults), longer])
        self._open[claim] = longer
        solver.add([-self._switch[claim], *(-self._then_struck[one] for one in faults)])

    def _put_any(self) -> None:
        self._any = self._solver.fresh()
        self._solver.add([-self._any, *self._switch.values()])

    def _all_struck(self, faults: CutSet) -> int:
        known = self._known.get(faults)
        if known is None:
            known = self._gates.true
            for one in faults:
                known = self._gates.both(known, self._struck[one])
            self._known[faults] = known
        return known

    def _widen(self, claim: int, faults: CutSet) -> None:
        guard = self._guards[claim]
        if not guard.met(faults):
            guard.sets.add(faults)
            self._put_set(claim, faults)

    def _grow(self) -> None:
        """What the step just found breaks, and what other faults in the place of one of its own
        break in the same way."""
        value, now = self._solver.value, self._now
        faults = tuple(k for k, one in enumerate(self._then_struck) if value(one))
        before = frozenset(k for k in faults if value(self._struck[k]))
        broken = [c for c in self.claims if value(now.literal(self._claims_after[c]))]
        base = {}
        for node in self._cases.inputs:
            at = now.known(node)
            base[node] = -1 if at is not None and value(at) else 0
        for claim in broken:
            self._widen(claim, faults)
        if faults:
            self._try_others(faults, before, base)

    def _try_others(self, faults: CutSet, before: frozenset[int], base: dict[int, int]) -> None:
        """Each case puts one fault in the place of one of `faults`."""
        count = len(self._faults.struck)
        struck, moves = [0] * count, [0] * count
        sets: list[CutSet] = []
        for place, gone in enumerate(faults):
            rest = tuple(one for one in faults if one != gone)
            those = ((1 << count) - 1) << (place * count)
            for one in rest:
                (struck if one in before else moves)[one] |= those
            for k in range(count):
                (struck if gone in before else moves)[k] |= 1 << len(sets)
                sets.append(tuple(sorted({*rest, k})))
        values = {node: word for node, word in base.items() if node not in self._faults.own}
        for k in range(count):
            values[self._faults.codes[k][0]] = struck[k]
            if self._faults.choices[k]:
                values[self._faults.choices[k][0]] = moves[k]
        self._cases.put(values)
        self._take(sets, struck, [a | b for a, b in zip(struck, moves, strict=True)])

    def _take(self, sets: Sequence[CutSet], struck: Sequence[int], after: Sequence[int]) -> None:
        """Of the cases those count that are allowed and keep to the claims before the step. struck,
        after: for each fault the cases in which it has struck before and after it."""
        word = self._cases.word
        good = (1 << len(sets)) - 1
        for literal in self._allowed:
            good &= word(literal)
        for claim in self.claims:
            bad = good & word(claim)
            if bad:
                good ^= bad & ~self._met(claim, struck)
        count = max(map(len, sets))
        for claim, later in self._claims_after.items():
            bad = good & word(later)
            if bad:
                for case in ones(bad & ~self._met(claim, after)):
                    if len(sets[case]) == count:
                        self._widen(claim, sets[case])

    def _met(self, claim: int, struck: Sequence[int]) -> int:
        """The cases in which some set of the guard has struck."""
        met = 0
        for faults in self._guards[claim].sets:
            some = -1
            for one in faults:
                some &= struck[one]
            met |= some
        return met
