"""Which position an element's readings select, given what each of them finds (rules M1, M2, P5)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from verifier.transition.compiled import Compiled
from verifier.transition.conditions import Meaning
from verifier.transition.graph import TRUE
from verifier.transition.readings import Formula, Joint, Key, Read, formula_of

Wanted = Callable[[int], bool]


class Selection:
    """Literals on the graph of `meaning`; no momentary hand acts."""

    def __init__(self, compiled: Compiled, meaning: Meaning) -> None:
        self._compiled = compiled
        self._meaning = meaning
        self._graph = meaning.graph

    def readers(self, element: int) -> list[Key]:
        """The readings of the element, sorted."""
        found: set[Key] = set()
        for move in self._compiled.circuit.elements[element].moves:
            found.update(_reads(formula_of(move.when, self._meaning.some)))
        return sorted(found)

    def reading(self, key: Key, free: int) -> int:
        """What a reader finds: the volume's pressure, or `free` where it may be read either way."""
        high, low = self._compiled.high[key[1]], self._compiled.low[key[1]]
        return self._graph.both(high, self._graph.either(low ^ 1, free))

    def beyond(self, element: int, seen: Mapping[Key, int], position: int) -> int:
        """The readings select `position` or a later one. False if the element is to stay."""
        return self._selects(element, seen, lambda target: target >= position)

    def below(self, element: int, seen: Mapping[Key, int], position: int) -> int:
        """The readings select a position before `position`. False if the element is to stay."""
        return self._selects(element, seen, lambda target: target < position)

    def _selects(self, element: int, seen: Mapping[Key, int], wanted: Wanted) -> int:
        graph, thing = self._graph, self._compiled.circuit.elements[element]
        rest, found = TRUE, []
        for move in thing.moves:
            condition = self._truth(formula_of(move.when, self._meaning.some), seen)
            if wanted(move.target):
                found.append(graph.both(rest, condition))
            rest = graph.both(rest, condition ^ 1)
        if thing.otherwise is not None and wanted(thing.otherwise):
            found.append(rest)
        return graph.any(found)

    def _truth(self, formula: Formula, seen: Mapping[Key, int]) -> int:
        if isinstance(formula, int):
            return formula
        if isinstance(formula, Read):
            return seen[formula.key] ^ (not formula.high)
        parts = (self._truth(part, seen) for part in formula.parts)
        return self._graph.all(parts) if formula.every else self._graph.any(parts)


def _reads(formula: Formula) -> Iterable[Key]:
    if isinstance(formula, Read):
        yield formula.key
    elif isinstance(formula, Joint):
        for part in formula.parts:
            yield from _reads(part)
