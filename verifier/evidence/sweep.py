"""Formulas of several origins over the same variables, put together so that equal ones meet.

Whatever is built is compared at once with what is there: sample cases tell which formulas may be
equal, a SAT solver whether they are. So two long chains of definitions that say the same are shown
to, link by link, and no question is larger than what lies between two links.
"""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

from verifier.evidence.window import Window
from verifier.solving.answer import Answer
from verifier.solving.sat_door import SatSolver, solve_once

TRUE = 1
FALSE = -1

# Conflicts spent on two formulas that may be equal, when nobody asked about them.
_IN_PASSING = 1000
# Nodes kept that no sample case tells apart.
_CANDIDATES = 3
# A node that fewer sample cases than this make true, or false, is not looked up in passing.
_FEWEST_CASES = 4
# Cases wait until there are as many as a share of the nodes, since all nodes take part.
_BATCH_SHARE = 200
# A case that told two nodes apart, with as many like it, is soon among the samples.
_BATCH = 16
_LIKE_IT = 8
# A question is first put about the nodes that lie nearest: so many of them, past those that both
# sides share or not, for so many conflicts. Then it is put about all that it depends on.
_WINDOWS = ((60, False, 100), (600, False, 3_000), (300, True, 1_000))


class Sweep:
    """Conjunctions of literals. A literal is a non-zero int, negative when negated; 1 is true.

    Invariant: a node's parts are smaller; no two nodes have the same parts.
    words: truth of each node in the sample cases, bit k for case k.
    """

    def __init__(self, width: int) -> None:
        self.parts: list[tuple[int, int]] = [(0, 0), (0, 0)]
        self.words: list[int] = [0, (1 << width) - 1]
        self.inputs: list[int] = []
        self.questions = 0
        self._case: dict[int, bool] = {}
        self._width = width
        self._known: dict[tuple[int, int], int] = {}
        self._alike: dict[int, list[int]] = {}
        self._solver = SatSolver()
        self._variables: dict[int, int] = {}
        # Things of a kind are built alike, so that many windows ask the same.
        self._refuted: set[tuple[tuple[int, ...], ...]] = set()
        self._batch = _BATCH
        self._told_apart: list[dict[int, bool]] = []
        self._random = Random(0)
        self._file(TRUE)

    @property
    def work(self) -> int:
        """Conflicts spent, and one for each question to the solver."""
        return self._solver.work

    def input(self, word: int) -> int:
        """A fresh variable, with its truth in the first sample cases."""
        self.parts.append((0, 0))
        self.words.append(word)
        node = len(self.parts) - 1
        self.inputs.append(node)
        self._file(node)
        return node

    def both(self, a: int, b: int, search: bool = True) -> int:
        """The conjunction. search: look for an equal formula that is there already."""
        if a > b:
            a, b = b, a
        if a == FALSE or a == -b:
            return FALSE
        if a == b or b == TRUE:
            return a
        if a == TRUE:
            return b
        key = (a, b)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._placed(a, b, search)
        return found

    def all(self, literals: Iterable[int], search: bool = True) -> int:
        """The conjunction of many; only the whole is looked for. What is known longest comes first,
        so that conjunctions that differ in what came late have a part in common."""
        ordered = sorted(set(literals), key=abs)
        found = TRUE
        for literal in ordered[:-1]:
            found = self.both(found, literal, search=False)
        return self.both(found, ordered[-1], search) if ordered else TRUE

    def _placed(self, a: int, b: int, search: bool) -> int:
        """A node that says so: one that is there already, or a new one."""
        words, full = self.words, self.words[TRUE]
        word = (words[a] if a > 0 else ~words[-a]) & (words[b] if b > 0 else ~words[-b]) & full
        node = len(self.parts)
        self.parts.append((a, b))
        words.append(word)
        if search and _FEWEST_CASES <= word.bit_count() <= self._width - _FEWEST_CASES:
            sign = 1 if word & 1 else -1
            for other in self._alike.get(word if word & 1 else full ^ word, ()):
                answer = self.differ(node, sign * other, _IN_PASSING)
                if answer is Answer.UNSAT:
                    self._forget(node)
                    return sign * other
                if answer is Answer.SAT:
                    self._told_apart.append(self.case())
        self._file(node)
        if len(self._told_apart) >= self._batch:
            self._refine()
        return node

    def _forget(self, node: int) -> None:
        if node != len(self.parts) - 1:
            raise AssertionError("only the last node can be taken back")
        self.parts.pop()
        self.words.pop()
        self._variables.pop(node, None)

    def _file(self, node: int) -> None:
        word = self.words[node]
        found = self._alike.setdefault(word if word & 1 else self.words[TRUE] ^ word, [])
        if len(found) < _CANDIDATES:
            found.append(node if word & 1 else -node)

    def _refine(self) -> None:
        """Add the cases that told nodes apart, and others like them, to the samples."""
        cases, self._told_apart = self._told_apart, []
        self._batch = max(_BATCH, len(self.parts) // _BATCH_SHARE)
        width, random = self._width, self._random
        fresh = len(cases) * _LIKE_IT
        full = (1 << fresh) - 1
        more = [0, full]
        for node in range(2, len(self.parts)):
            a, b = self.parts[node]
            if a:
                left = more[a] if a > 0 else ~more[-a]
                right = more[b] if b > 0 else ~more[-b]
                more.append(left & right & full)
                continue
            word = 0
            for case in cases:
                word = word << _LIKE_IT | (((1 << _LIKE_IT) - 1) if case.get(node) else 0)
            flips = full
            for _ in range(4):
                flips &= random.getrandbits(fresh)
            more.append(word ^ flips & ~_firsts(len(cases)))
        self.words = [old | new << width for old, new in zip(self.words, more, strict=True)]
        self._width = width + fresh
        self._alike = {}
        for node in range(1, len(self.parts)):
            self._file(node)

    def differ(self, a: int, b: int, conflicts: int) -> Answer:
        """SAT: they differ in the case that `case` tells. UNSAT: they are equal. UNKNOWN after
        about so many conflicts."""
        if a == b:
            return Answer.UNSAT
        for most, past_shared, enough in _WINDOWS:
            window = Window(self.parts, a, b, most, past_shared)
            clauses = tuple(window.clauses)
            if clauses in self._refuted:
                return Answer.UNSAT
            self.questions += 1
            answer, true = solve_once(clauses, enough)
            if answer is Answer.UNSAT:
                self._refuted.add(clauses)
                return answer
            if answer is Answer.SAT and window.whole:
                numbers = window.numbers
                self._case = {n: n in numbers and numbers[n] in true for n in self.inputs}
                return answer
        return self._differ_at_all(a, b, conflicts)

    def _differ_at_all(self, a: int, b: int, conflicts: int) -> Answer:
        """The same, by all that both depend on."""
        said = Answer.UNSAT
        for pair in ((a, -b), (-a, b)):
            if FALSE in pair:
                continue
            self.questions += 1
            answer = self._solver.solve([self._encoded(one) for one in pair], conflicts)
            if answer is Answer.SAT:
                known = self._variables
                self._case = {n: n in known and self._solver.value(known[n]) for n in self.inputs}
                return answer
            if answer is Answer.UNKNOWN:
                said = answer
        return said

    def case(self) -> dict[int, bool]:
        """Truth of the inputs in the last answer, which was SAT; those that do not matter are
        false."""
        return self._case

    def _encoded(self, literal: int) -> int:
        """The solver's literal, with all that it depends on."""
        variables, parts = self._variables, self.parts
        stack = [abs(literal)]
        while stack:
            node = stack[-1]
            if node in variables:
                stack.pop()
                continue
            a, b = parts[node]
            if a:
                missing = [n for n in (abs(a), abs(b)) if n not in variables]
                if missing:
                    stack += missing
                    continue
            stack.pop()
            self._encode(node, a, b)
        found = variables[abs(literal)]
        return found if literal > 0 else -found

    def _encode(self, node: int, a: int, b: int) -> None:
        solver, variables = self._solver, self._variables
        own = variables[node] = solver.fresh()
        if node == TRUE:
            solver.add([own])
        elif a:
            left = variables[a] if a > 0 else -variables[-a]
            right = variables[b] if b > 0 else -variables[-b]
            solver.add([-own, left])
            solver.add([-own, right])
            solver.add([own, -left, -right])


def _firsts(cases: int) -> int:
    """The first bit of each case's share of a word."""
    word = 0
    for _ in range(cases):
        word = word << _LIKE_IT | 1
    return word
