"""Which positions are demanded of each element, and how it moves (rules M1 to M6)."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from verifier.model.circuit import Element
from verifier.model.condition import All, Any, Condition, Not
from verifier.transition.conditions import NOBODY, Meaning
from verifier.transition.graph import FALSE


class Demand(Struct, frozen=True):
    """Literals of one element.

    targets: (position, some reading selects it), each position that can be, ascending; one that the
    element is told to keep counts as demanded where it stands there.
    must_move: no reading selects the position in which it stands (M3).
    """

    targets: tuple[tuple[int, int], ...]
    must_move: int


class Motion(Struct, frozen=True):
    """Literals of one element's step: it goes one position up, or down; next: of each bit of its
    position."""

    up: int
    down: int
    next: tuple[int, ...]


def selections(element: Element) -> dict[int | None, Condition]:
    """Under which condition each position is selected by one reading (M1); None: its own."""
    cases: dict[int | None, list[Condition]] = {}
    before: list[Condition] = []
    for move in element.moves:
        cases.setdefault(move.target, []).append(All((*before, move.when)))
        before.append(Not(move.when))
    cases.setdefault(element.otherwise, []).append(All(tuple(before)))
    return {target: Any(tuple(some)) for target, some in cases.items()}


def demand_of(meaning: Meaning, element: int, acting: Mapping[int, int] = NOBODY) -> Demand:
    """The demanded positions of an element, exactly: each reader reads as it likes (M2)."""
    graph, encoding = meaning.graph, meaning.encoding
    told, stays = _selected(meaning, element, acting)
    targets, content = [], []
    for position in range(len(meaning.circuit.elements[element].positions)):
        here = encoding.at(element, (position,))
        literal = graph.either(told.get(position, FALSE), graph.both(here, stays))
        if literal != FALSE:
            targets.append((position, literal))
            content.append(graph.both(here, literal))
    return Demand(tuple(targets), meaning.must(element, graph.any(content) ^ 1))


def motion_of(meaning: Meaning, element: int, acting: Mapping[int, int]) -> Motion:
    """The step of an element: it may stay, or go one position towards a demanded one (M3, M4)."""
    graph, encoding = meaning.graph, meaning.encoding
    count = len(meaning.circuit.elements[element].positions)
    told, _ = _selected(meaning, element, acting)
    may_rise = graph.any(
        graph.both(encoding.beyond(element, target) ^ 1, told[target]) for target in sorted(told)
    )
    may_fall = graph.any(
        graph.both(encoding.beyond(element, target + 1), told[target]) for target in sorted(told)
    )
    if graph.either(may_rise, may_fall) == FALSE:
        return Motion(FALSE, FALSE, tuple(encoding.beyond(element, k) for k in range(1, count)))
    go = encoding.goes(element)
    # Of two positions only one way can be open; of more, both may be demanded at once.
    either_way = graph.both(may_rise, may_fall) if count > 2 else FALSE
    falls = encoding.goes_down(element) if either_way != FALSE else FALSE
    up = graph.all([go, may_rise, graph.both(either_way, falls) ^ 1])
    down = graph.all([go, may_fall, graph.both(either_way, falls ^ 1) ^ 1])
    following = []
    for k in range(1, count):
        leaves = graph.both(down, encoding.at(element, (k,)))
        arrives = graph.both(up, encoding.at(element, (k - 1,)))
        stays = graph.both(encoding.beyond(element, k), leaves ^ 1)
        following.append(graph.either(stays, arrives))
    return Motion(up, down, tuple(following))


def _selected(
    meaning: Meaning, element: int, acting: Mapping[int, int]
) -> tuple[dict[int, int], int]:
    """Some reading selects: each position named in a move or in *otherwise*; the element's own."""
    told: dict[int, int] = {}
    stays = FALSE
    for target, condition in selections(meaning.circuit.elements[element]).items():
        if target is None:
            stays = meaning.some(condition, acting)
        else:
            told[target] = meaning.some(condition, acting)
    return told, stays
