"""Fault trees as formulas, and their minimal cut sets by way of a decision diagram.

Another way than that of the package: the tree becomes a diagram, and the smallest solutions are
taken from it as Rauzy does (Reliability Engineering and System Safety 40, 1993, 203-211; from
memory): of a node's solutions, those of the branch without the fault, and those with it that hold
none of the former.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from itertools import combinations
from typing import Any

from dd import bdd

Tree = dict[str, str]
"""Gate names with their formulas: `a & (b | g2)`, `2 of (a, b, c)`; other names are events."""


def tree(text: str) -> Tree:
    """One gate a line: `name = formula`; the first is the top."""
    lines = (line.split("#")[0].strip() for line in text.splitlines())
    pairs = (line.split("=", 1) for line in lines if line)
    return {name.strip(): formula.strip() for name, formula in pairs}


def events_of(gates: Tree) -> list[str]:
    """In the order in which they are come upon from the top, which makes a small diagram."""
    found: dict[str, None] = {}

    def visit(name: str) -> None:
        if name not in gates:
            found.setdefault(name)
            return
        for other in re.findall(r"[A-Za-z]\w*", re.sub(r"\d+ of", "", gates[name])):
            if other not in found and other != "of":
                visit(other)

    visit(next(iter(gates)))
    return list(found)


class _Made:
    """A gate or an event in a formula that Python reads."""

    def __init__(self, solutions: Solutions, name: str | int) -> None:
        self._solutions = solutions
        self.node = solutions.diagram(name) if isinstance(name, str) else name

    def __and__(self, other: _Made) -> _Made:
        return self._of("and", other)

    def __or__(self, other: _Made) -> _Made:
        return self._of("or", other)

    def _of(self, word: str, other: _Made) -> _Made:
        node = int(self._solutions.manager.apply(word, self.node, other.node))
        return _Made(self._solutions, node)


class Solutions:
    """Families of sets of events as a diagram of their own: a node is None for no set at all, ()
    for the empty set alone, else (event, those that had it, those without it)."""

    def __init__(self, gates: Tree) -> None:
        self.gates = gates
        self.events = events_of(gates)
        self.manager: Any = bdd.BDD({event: k for k, event in enumerate(self.events)})
        self.manager.configure(reordering=False)
        self.known: dict[str, int] = {}
        self.without: dict[tuple[Any, Any], Any] = {}
        self.solved: dict[int, Any] = {}
        self.nodes: dict[Any, Any] = {}

    def diagram(self, name: str) -> int:
        if name not in self.known:
            if name in self.gates:
                self.known[name] = self._formula(self.gates[name])
            else:
                self.known[name] = self.manager.var(name)
        return self.known[name]

    def _formula(self, formula: str) -> int:
        several = re.fullmatch(r"(\d+) of \((.*)\)", formula)
        if several is None:
            names = set(re.findall(r"[A-Za-z]\w*", formula))
            made: _Made = eval(formula, {}, {name: _Made(self, name) for name in names})
            return made.node
        members = [self.diagram(name.strip()) for name in several[2].split(",")]
        total = self.manager.false
        for chosen in combinations(members, int(several[1])):
            product = self.manager.true
            for one in chosen:
                product = self.manager.apply("and", product, one)
            total = self.manager.apply("or", total, product)
        return int(total)

    def smallest(self) -> set[frozenset[str]]:
        return set(self._sets(self._minimal(self.diagram(next(iter(self.gates))))))

    def probability(self, of: Mapping[str, Fraction]) -> Fraction:
        """Of the top, of independent events, straight from the diagram of the tree."""
        worth: dict[int, Fraction] = {}

        def visit(node: int) -> Fraction:
            if abs(node) == 1:
                return Fraction(int(node == 1))
            if node < 0:
                return 1 - visit(-node)
            if node not in worth:
                level, other, then = self.manager.succ(node)
                p = of[self.events[level]]
                worth[node] = p * visit(then) + (1 - p) * visit(other)
            return worth[node]

        return visit(self.diagram(next(iter(self.gates))))

    def _node(self, event: str, having: Any, lacking: Any) -> Any:
        if having is None:
            return lacking
        key = (event, having and having[-1], lacking and lacking[-1])
        return self.nodes.setdefault(key, (event, having, lacking, len(self.nodes) + 1))

    def _minimal(self, node: int) -> Any:
        if abs(node) == 1:
            return () if node == 1 else None
        if node not in self.solved:
            level, other, then = self.manager.succ(node)
            sign = 1 if node > 0 else -1
            lacking = self._minimal(sign * other)
            having = self._less(self._minimal(sign * then), lacking)
            self.solved[node] = self._node(self.events[level], having, lacking)
        return self.solved[node]

    def _less(self, one: Any, other: Any) -> Any:
        """The sets of one that hold none of the other."""
        if one is None or other is None:
            return one
        if other == ():
            return None
        if one == ():
            return () if not self._has_empty(other) else None
        key = (one[-1], other[-1])
        if key not in self.without:
            a, b = self.events.index(one[0]), self.events.index(other[0])
            if a < b:
                value = self._node(one[0], self._less(one[1], other), self._less(one[2], other))
            elif a > b:
                value = self._less(one, other[2])
            else:
                having = self._less(self._less(one[1], other[1]), other[2])
                value = self._node(one[0], having, self._less(one[2], other[2]))
            self.without[key] = value
        return self.without[key]

    def _has_empty(self, one: Any) -> bool:
        while one:
            one = one[2]
        return one == ()

    def _sets(self, one: Any) -> list[frozenset[str]]:
        if one is None:
            return []
        if one == ():
            return [frozenset()]
        having = [found | {one[0]} for found in self._sets(one[1])]
        return having + self._sets(one[2])
