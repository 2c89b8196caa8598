"""Many goals as one condition in which what they have in common stands once.

"Open, and the first vent shut, or open, and the second vent shut" is the same as "open, and the
first or the second vent shut". Goals of quantified properties have very much in common: forty
thousand of them come down to some hundred terms. Only distributivity is used. Nobody relies on
that: that no goal is true without the condition is an obligation of its own (certificate.py).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from heapq import heapify, heappop, heappush

from verifier.evidence.clauses import TRUE, Moment
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
        return self._value(moment, {})

    def parts(self) -> Iterator[tuple[tuple[int, ...], Branch]]:
        """The branch in parts, one of which is true if it is: literals, and what is behind them."""
        literals: tuple[int, ...] = ()
        branch = self
        while len(branch.ways) == 1:
            ((literal, branch),) = branch.ways.items()
            literals += (literal,)
        if not branch.ways:
            yield literals, branch
        for literal, behind in branch.ways.items():
            yield (*literals, literal), behind

    def nodes(self) -> list[int]:
        """Nodes of all literals, ascending; 0, the constant, is not among them."""
        found: set[int] = set()
        stack = [self]
        while stack:
            branch = stack.pop()
            found.update(literal >> 1 for literal in branch.ways)
            stack += branch.ways.values()
        return sorted(found - {0})

    def _value(self, moment: Moment, known: dict[tuple[tuple[int, int], ...], int]) -> int:
        if not self.ways:
            return TRUE
        clauses = moment.clauses
        key = tuple(
            (moment.literal(literal), behind._value(moment, known))
            for literal, behind in self.ways.items()
        )
        value = known.get(key)
        if value is None:
            # A chain from the end, so that branches that end alike share what they end with.
            value = -TRUE
            for literal, behind_it in reversed(key):
                value = clauses.either(clauses.both(literal, behind_it), value)
            known[key] = value
        return value


def gathered(graph: Graph, goals: Sequence[int]) -> Branch:
    """The disjunction of the goals, of which there is at least one; what most of the cases ask for
    comes first."""
    own = _own_nodes(graph, goals)
    cases = dict.fromkeys(case for goal in goals for case in _cases(graph, goal, own, MOST_DEEP))
    root = Branch()
    if not cases:
        root.ways[0] = Branch()  # contradictions, all of them
    waiting = [(root, list(cases))] if all(cases) else []
    while waiting:
        branch, rows = waiting.pop()
        for literal, found in _parted(rows):
            behind = branch.ways[literal] = Branch()
            rest = [case - {literal} for case in found]
            # Where a case ends, the branch is true, whatever longer cases ask for besides.
            if all(rest):
                waiting.append((behind, rest))
    return root


def _parted(rows: Sequence[Case]) -> Iterator[tuple[int, list[Case]]]:
    """Literals with the cases that have them, each case once; of what is left, most have the next
    literal. Of literals that as many have, the least comes first."""
    places: dict[int, list[int]] = {}
    for place, row in enumerate(rows):
        for literal in row:
            places.setdefault(literal, []).append(place)
    left = {literal: len(found) for literal, found in places.items()}
    heap = [(-count, literal) for literal, count in left.items()]
    heapify(heap)
    taken = [False] * len(rows)
    while heap:
        count, literal = heappop(heap)
        if -count != left[literal]:
            heappush(heap, (-left[literal], literal))
        elif count:
            mine = [place for place in places[literal] if not taken[place]]
            for place in mine:
                taken[place] = True
                for other in rows[place]:
                    left[other] -= 1
            yield literal, [rows[place] for place in mine]


def _cases(graph: Graph, literal: int, own: set[int], deep: int) -> list[Case]:
    """A goal as a disjunction of cases. Nodes that several goals, or several parts of one, rest on
    are not taken apart."""
    whole = [frozenset((literal,))]
    if literal >> 1 not in own or not deep:
        return whole
    a, b = graph.fanins[literal >> 1]
    if literal & 1:
        left, right = (_cases(graph, one ^ 1, own, deep - 1) for one in (a, b))
        return left + right if len(left) + len(right) <= MOST_CASES else whole
    left, right = (_cases(graph, one, own, deep - 1) for one in (a, b))
    if len(left) * len(right) > MOST_CASES:
        return whole
    joined = [one | other for one in left for other in right]
    # What contradicts itself is no case; it may be all of them.
    found = [case for case in joined if not any(one ^ 1 in case for one in case)]
    return found if all(len(case) <= MOST_LITERALS for case in found) else whole


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
