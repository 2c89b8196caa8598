"""What differs in the parts of two circuits, and in the kinds that they are of."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from verifier.changes.counterparts import Counterparts, Foreign, Met, met
from verifier.changes.difference import Difference, listed
from verifier.model.circuit import Circuit, Element, Part


def of_parts(between: Counterparts, doubts: dict[str, tuple[str, ...]]) -> Iterator[Difference]:
    """Parts that are gone, new, renamed, of another kind, or given or named otherwise."""
    old, new = between.old, between.new
    for a, part in enumerate(old.parts):
        if a not in between.parts:
            words = f"`{part.name}` ({part.kind}) is no longer there"
            yield Difference("part removed", words, (part.name,))
            continue
        other = new.parts[between.parts[a]]
        if part.name != other.name:
            words = f"`{part.name}` is now called `{other.name}`"
            others = doubts.get(part.name, ())
            if others:
                words += f" (it could as well be {listed(others)})"
            yield Difference(
                "part renamed", words, (other.name,), others=others, name_only=not others
            )
        if part.kind != other.kind:
            words = f"`{other.name}` is a {other.kind}, and was a {part.kind}"
            yield Difference("part swapped", words, (other.name,))
        if part.quantities != other.quantities:
            words = f"`{other.name}` is given as {_quantities(other)}, and was {_quantities(part)}"
            yield Difference("part altered", words, (other.name,), name_only=True)
        if part.roles != other.roles:
            words = f"`{other.name}` has {_roles(other.roles)}, and had {_roles(part.roles)}"
            yield Difference("part altered", words, (other.name,), name_only=True)
    taken = set(between.parts.values())
    for b, part in enumerate(new.parts):
        if b not in taken:
            yield Difference("part added", f"`{part.name}` ({part.kind}) is new", (part.name,))


def _quantities(part: Part) -> str:
    told = (f"{name} = {amount.value} {amount.unit}" for name, amount in part.quantities)
    return ", ".join(told) or "nothing"


def _roles(roles: tuple[str, ...]) -> str:
    return f"the role{'s' if len(roles) > 1 else ''} {listed(roles)}" if roles else "no role"


def of_kinds(between: Counterparts) -> Iterator[Difference]:
    old, new = between.old, between.new
    told: dict[str, list[str]] = {}
    for a, b in between.parts.items():
        if old.parts[a].kind == new.parts[b].kind:
            for words in _alterations(between, a, b):
                told.setdefault(words, []).append(new.parts[b].name)
    for words, names in told.items():
        yield Difference("kind altered", words.format(listed(tuple(names))), tuple(names))
    for a, b in between.elements.items():
        mine, other = old.elements[a], new.elements[b]
        starts = mine.positions[mine.start], other.positions[other.start]
        if starts[0] != starts[1]:
            words = f"`{other.name}` starts {starts[1]}, and started {starts[0]}"
            yield Difference("start", words, (new.parts[other.part].name,))


def _alterations(between: Counterparts, a: int, b: int) -> Iterator[str]:
    """How two parts of kinds of one name differ; {} stands for the parts."""
    old, new = between.old, between.new
    before, after = old.parts[a], new.parts[b]
    kind = f"kind `{after.kind}` of {{}}"
    labels = [{new.ports[p].label for p in after.ports}, {old.ports[p].label for p in before.ports}]
    for mine, theirs, words in ((labels[0], labels[1], "now has"), (labels[1], labels[0], "had")):
        for label in sorted(mine - theirs):
            yield f"{kind} {words} a port {label}"
    elements = {old.elements[e].label: e for e in before.elements}
    others = {new.elements[e].label: e for e in after.elements}
    for label in dict.fromkeys([*elements, *others]):
        if label not in others or label not in elements:
            yield f"{kind} {'had' if label in elements else 'now has'} an element {label}"
        elif not _moves_alike(between, old.elements[elements[label]], new.elements[others[label]]):
            yield f"{kind}: its {label} moves differently"
    hands = {(old.hands[h].label, old.hands[h].held) for h in before.hands}
    if hands != {(new.hands[h].label, new.hands[h].held) for h in after.hands}:
        yield f"{kind} is worked by hand differently"
    if _air_paths(old, a, between.element) != _air_paths(new, b):
        yield f"{kind}: air passes through it differently"


def _moves_alike(between: Counterparts, mine: Element, other: Element) -> bool:
    if mine.positions != other.positions or mine.otherwise != other.otherwise:
        return False
    try:
        moves = [(move.target, between.condition(move.when)) for move in mine.moves]
    except Foreign:
        return False
    return moves == [(move.target, move.when) for move in other.moves]


_AirPath = tuple[str, str, str, bool, Met]
"""Both ports, bore, whether one way, and when open."""


def _air_paths(
    circuit: Circuit, part: int, element: Callable[[int], int | None] = lambda own: own
) -> list[_AirPath]:
    found = []
    for passage in circuit.passages:
        if passage.part == part:
            ends = [circuit.ports[port].label for port in passage.ports]
            start, end = ends if passage.one_way else sorted(ends)
            opened = met(passage.where, element)
            found.append((start, end, passage.bore, passage.one_way, opened))
    return sorted(found, key=repr)
