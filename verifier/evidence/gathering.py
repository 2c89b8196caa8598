"""Many goals as one condition in which what they have in common stands once.

"Open, and the first vent shut, or open, and the second vent shut" is the same as "open, and the
first or the second vent shut". Goals of quantified properties have very much in common: forty
thousand of them come down to some hundred terms. Only distributivity is used, so the condition is
exactly the disjunction of the goals; tests compare the two on random graphs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from heapq import heapify, heappop, heappush

from verifier.evidence.clauses import Clauses, Moment
from verifier.transition.graph import Graph

# What a goal is taken apart into at most, and how deep; what goes beyond stays whole.
MOST_CASES = 64
MOST_LITERALS = 12
MOST_DEEP = 40

Case = frozenset[int]
"""Graph literals that are true together."""


class Branch:
    """True when one of the literals is true together with what stands behind it; a branch with
    nothing on it is true."""

    def __init__(self) -> None:
        self.ways: dict[int, Branch] = {}

    def value(self, moment: Moment) -> int:
        """The literal of the branch at a moment."""
        known: dict[tuple[tuple[int, int], ...], int] = {}
        return self._value(moment, known)

    def _value(self, moment: Moment, known: dict[tuple[tuple[int, int], ...], int]) -> int:
        if not self.ways:
            return Clauses.TRUE
        clauses = moment.clauses
        key = tuple(
            (moment.literal(literal), behind._value(moment, known))
            for literal, behind in self.ways.items()
        )
        value = known.get(key)
        if value is None:
            # A chain from the end, so that branches that end alike share what they end with.
            value = -Clauses.TRUE
            for literal, behind in reversed(key):
                value = clauses.either(clauses.both(literal, behind), value)
            known[key] = value
        return value


def gathered(graph: Graph, goals: Sequence[int]) -> Branch:
    """The disjunction of the goals; what most of the cases ask for comes first."""
    cases = dict.fromkeys(case for goal in _cases_of(graph, goals) for case in goal)
    asked = Counter(literal for case in cases for literal in case)

    def common_first(literal: int) -> tuple[int, int]:
        return -asked[literal], literal

    root = Branch()
    rows = [sorted(case, key=common_first) for case in cases]
    rows.sort(key=lambda row: [common_first(literal) for literal in row])
    whole: set[int] = set()
    for row in rows:
        at = root
        for literal in row:
            at = at.ways.setdefault(literal, Branch())
        whole.add(id(at))
    _cut(root, whole)
    return root


def _cut(root: Branch, whole: set[int]) -> None:
    """Where a case ends, the branch is true, whatever longer cases ask for besides."""
    stack = [root]
    while stack:
        at = stack.pop()
        if id(at) in whole:
            at.ways.clear()
        stack += at.ways.values()


def _cases_of(graph: Graph, goals: Sequence[int]) -> list[list[Case]]:
    """Each goal as a disjunction of cases. Nodes that several goals, or several parts of one, rest
    on are not taken apart."""
    own = _own_nodes(graph, goals)
    return [_cases(graph, goal, own, MOST_DEEP) for goal in goals]


def _cases(graph: Graph, literal: int, own: set[int], deep: int) -> list[Case]:
    if literal >> 1 not in own or not deep:
        return [frozenset((literal,))]
    a, b = graph.fanins[literal >> 1]
    if literal & 1:
        left, right = (_cases(graph, one ^ 1, own, deep - 1) for one in (a, b))
        return left + right if len(left) + len(right) <= MOST_CASES else [frozenset((literal,))]
    left, right = (_cases(graph, one, own, deep - 1) for one in (a, b))
    if len(left) * len(right) > MOST_CASES:
        return [frozenset((literal,))]
    joined = [one | other for one in left for other in right]
    # What contradicts itself is no case; it may be all of them.
    found = [case for case in joined if not any(one ^ 1 in case for one in case)]
    return found if all(len(case) <= MOST_LITERALS for case in found) else [frozenset((literal,))]


def _own_nodes(graph: Graph, goals: Sequence[int]) -> set[int]:
    """Conjunctions that one goal, or one node of this set, rests on and no other."""
    uses = Counter(goal >> 1 for goal in goals)
    waiting = [-node for node in uses]
    heapify(waiting)
    own: set[int] = set()
    while waiting:
        # Descending, so that all of the set that rest on a node come before it.
        node = -heappop(waiting)
        a, b = graph.fanins[node]
        if a < 0 or uses[node] > 1:
            continue
        own.add(node)
        for part in (a >> 1, b >> 1):
            uses[part] += 1
            if uses[part] == 1:
                heappush(waiting, -part)
    return own
