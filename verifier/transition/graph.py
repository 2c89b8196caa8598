"""A structurally hashed and-inverter graph: the one form in which solvers see a circuit.

A literal is an int: node index * 2, plus 1 when complemented. Node 0 is the constant false, so
FALSE == 0 and TRUE == 1. Inputs are nodes without fanin. Nodes are created in topological order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

FALSE = 0
TRUE = 1


class Graph:
    """Invariant: for an and-node n, both fanin literals refer to nodes below n; no two and-nodes
    have the same fanins; constants, equal and complementary fanins are folded away, and so is what
    one fanin makes of the parts of the other.
    """

    def __init__(self) -> None:
        # A node's fanins; (-1, -1) marks the constant and the inputs.
        self.fanins: list[tuple[int, int]] = [(-1, -1)]
        self.names: dict[int, str] = {}
        self._known: dict[tuple[int, int], int] = {}

    def copy(self) -> Graph:
        """A graph with the same nodes, to build on without changing this one."""
        other = Graph()
        other.fanins = self.fanins.copy()
        other.names = self.names.copy()
        other._known = self._known.copy()
        return other

    def input(self, name: str) -> int:
        """A fresh input; its positive literal."""
        self.fanins.append((-1, -1))
        node = len(self.fanins) - 1
        self.names[node] = name
        return 2 * node

    def both(self, a: int, b: int) -> int:
        """Conjunction."""
        if a > b:
            a, b = b, a
        if a < 2:
            return b if a else FALSE
        if a ^ b < 2:
            return a if a == b else FALSE
        node = self._known.get((a, b))
        if node is not None:
            return 2 * node
        simpler = self._absorbed(a, b)
        if simpler is not None:
            return simpler
        fanins = self.fanins
        node = len(fanins)
        fanins.append((a, b))
        self._known[a, b] = node
        return 2 * node

    def _absorbed(self, a: int, b: int) -> int | None:
        """The conjunction where what one side says of the other's parts makes it simpler."""
        of_b, of_a = self.fanins[b >> 1], self.fanins[a >> 1]
        if of_b[0] >= 0:
            if a in of_b:
                return self.both(a, (of_b[1] if a == of_b[0] else of_b[0]) ^ 1) if b & 1 else b
            if a ^ 1 in of_b:
                return a if b & 1 else FALSE
        if of_a[0] >= 0:
            if b in of_a:
                return self.both(b, (of_a[1] if b == of_a[0] else of_a[0]) ^ 1) if a & 1 else a
            if b ^ 1 in of_a:
                return b if a & 1 else FALSE
            if not (a | b) & 1 and (of_a[0] ^ 1 in of_b or of_a[1] ^ 1 in of_b):
                return FALSE
        return None

    def either(self, a: int, b: int) -> int:
        return self.both(a ^ 1, b ^ 1) ^ 1

    def choose(self, condition: int, then: int, otherwise: int) -> int:
        if then == otherwise:
            return then
        return self.either(self.both(condition, then), self.both(condition ^ 1, otherwise))

    def same(self, a: int, b: int) -> int:
        return self.choose(a, b, b ^ 1)

    def all(self, literals: Iterable[int]) -> int:
        """Conjunction of many, balanced so that depth stays logarithmic."""
        level = sorted(set(literals))
        both = self.both
        while len(level) > 1:
            pairs = list(map(both, level[::2], level[1::2]))
            level = pairs + level[len(pairs) * 2 :]
        return level[0] if level else TRUE

    def any(self, literals: Iterable[int]) -> int:
        return self.all([literal ^ 1 for literal in literals]) ^ 1

    def is_and(self, node: int) -> bool:
        return self.fanins[node][0] >= 0

    def substitute(self, roots: Sequence[int], values: dict[int, int]) -> list[int]:
        """The roots with inputs replaced: `values` maps input nodes to literals."""
        return self.replace(roots, {0: FALSE, **values})

    def replace(self, roots: Sequence[int], done: dict[int, int]) -> list[int]:
        """As `substitute`, for one replacement that is made again and again: `done` has 0 and the
        inputs to begin with, and everything replaced so far afterwards."""
        missing: set[int] = set()
        stack = [root >> 1 for root in roots]
        while stack:
            node = stack.pop()
            if node not in done and node not in missing:
                missing.add(node)
                a, b = self.fanins[node]
                if a >= 0:
                    stack += (a >> 1, b >> 1)
        for node in sorted(missing):
            a, b = self.fanins[node]
            if a < 0:
                done[node] = 2 * node
            else:
                done[node] = self.both(done[a >> 1] ^ (a & 1), done[b >> 1] ^ (b & 1))
        return [done[root >> 1] ^ (root & 1) for root in roots]

    def cone(self, roots: Iterable[int]) -> list[int]:
        """Nodes that the roots depend on, in ascending (topological) order."""
        seen: set[int] = set()
        stack = [root >> 1 for root in roots]
        while stack:
            node = stack.pop()
            if node in seen:
                continue
            seen.add(node)
            a, b = self.fanins[node]
            if a >= 0:
                stack += (a >> 1, b >> 1)
        return sorted(seen)

    def evaluate(self, roots: Sequence[int], values: dict[int, bool]) -> list[bool]:
        """Truth of the roots when input node n has `values[n]` (absent inputs are false)."""
        truth: dict[int, bool] = {0: False}
        for node in self.cone(roots):
            a, b = self.fanins[node]
            if a < 0:
                truth[node] = values.get(node, False) if node else False
            else:
                truth[node] = (truth[a >> 1] ^ bool(a & 1)) and (truth[b >> 1] ^ bool(b & 1))
        return [truth[root >> 1] ^ bool(root & 1) for root in roots]

    def words(self, roots: Sequence[int], values: dict[int, int], width: int) -> list[int]:
        """Truth of the roots in `width` cases at once: bit k of a word is its value in case k.

        Input node n has the word `values[n]`; absent inputs are false in every case.
        """
        full = (1 << width) - 1
        word: dict[int, int] = {0: 0}
        for node in self.cone(roots):
            a, b = self.fanins[node]
            if a < 0:
                word[node] = values.get(node, 0) if node else 0
            else:
                left = word[a >> 1] ^ full if a & 1 else word[a >> 1]
                right = word[b >> 1] ^ full if b & 1 else word[b >> 1]
                word[node] = left & right
        return [word[root >> 1] ^ full if root & 1 else word[root >> 1] for root in roots]

    def never(self, literal: int, most: int) -> bool:
        """Whether the literal is false for all inputs, tried one by one; False ("not known to be")
        when it depends on more than `most` inputs."""
        if literal <= TRUE:
            return literal == FALSE
        inputs = [node for node in self.cone([literal]) if node and not self.is_and(node)]
        if len(inputs) > most:
            return False
        width = 1 << len(inputs)
        values = {node: _alternating(k, width) for k, node in enumerate(inputs)}
        return self.words([literal], values, width)[0] == 0


def _alternating(k: int, width: int) -> int:
    """The word whose bit i is bit k of i."""
    run = 1 << k
    word = ((1 << run) - 1) << run
    size = 2 * run
    while size < width:
        word |= word << size
        size *= 2
    return word
