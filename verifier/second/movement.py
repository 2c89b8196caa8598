"""How elements move, when all is at rest, and what a step leads to (M1 to M6, O1 to O3)."""

from __future__ import annotations

from collections.abc import Callable, Container, Sequence

from msgspec import Struct

from verifier.model.circuit import Element, Where
from verifier.model.condition import At, AtRest, Condition, Hand, Path, Setting
from verifier.second.air import Air
from verifier.second.conditions import Plain, fact, readings, reads, sketch
from verifier.second.formulas import FALSE, TRUE, Formula
from verifier.second.variables import (
    DOWN,
    EMPTY,
    HELD,
    HELD_AFTER,
    MOVES,
    SET_AFTER,
    Facts,
)

Acting = Callable[[int], Formula]
"""Whether a hand acts."""


def by_hand(facts: Facts) -> Acting:
    """Held hands as the state says, momentary ones as the step does."""
    return facts.hand


def alone(facts: Facts, acting: int | None = None) -> Acting:
    """No momentary hand acts, but for `acting`."""

    def acts(hand: int) -> Formula:
        if facts.circuit.hands[hand].held:
            return facts.variable(HELD, hand)
        return TRUE if hand == acting else FALSE

    return acts


def truth_of(facts: Facts, acting: Acting, condition: Plain) -> Formula:
    """An atom of a move or of an assumption."""
    if isinstance(condition, Hand):
        return acting(condition.hand)
    if isinstance(condition, Setting):
        return facts.setting(condition.switch, condition.values)
    if isinstance(condition, AtRest | Path):
        raise AssertionError("moves and assumptions do not speak of rest or of paths")
    return facts.at(condition.element, condition.positions)


def demands(facts: Facts, air: Air, element: int, acting: Acting) -> tuple[Formula, ...]:
    """For each position whether it is demanded (M2)."""
    thing, formulas = facts.circuit.elements[element], facts.formulas
    whens = [sketch(m.when, lambda atom: truth_of(facts, acting, atom)) for m in thing.moves]
    readers = {one.reader: one.volume for when in whens for one in reads(when)}
    found = [FALSE] * len(thing.positions)
    for truth, able in readings(formulas, air, readers):
        if able == FALSE:
            continue
        left = able
        for move, when in zip(thing.moves, whens, strict=True):
            true = fact(formulas, when, truth)
            selected = formulas.both(left, true)
            found[move.target] = formulas.either(found[move.target], selected)
            left = formulas.both(left, -true)
        for position in range(len(found)):
            here = _left_there(facts, element, thing, position)
            found[position] = formulas.either(found[position], formulas.both(left, here))
    return tuple(found)


def _left_there(facts: Facts, element: int, thing: Element, position: int) -> Formula:
    """Whether the last rule of an element selects the position (M1)."""
    if thing.otherwise is None:
        return facts.at(element, (position,))
    return TRUE if thing.otherwise == position else FALSE


def must_move(facts: Facts, element: int, demanded: tuple[Formula, ...]) -> Formula:
    """Its own position is not demanded (M3)."""
    formulas = facts.formulas
    return formulas.any_of(
        formulas.both(facts.at(element, (position,)), -wanted)
        for position, wanted in enumerate(demanded)
    )


def at_rest(facts: Facts, air: Air, acting: Acting) -> Formula:
    """No element must move (M6)."""
    return facts.formulas.all_of(
        -must_move(facts, e, demands(facts, air, e, acting))
        for e in range(len(facts.circuit.elements))
    )


class Shift(Struct, frozen=True):
    """How an element goes in the step: up or down by one position (M3, M4)."""

    up: Formula
    down: Formula


def shift(facts: Facts, element: int, demanded: tuple[Formula, ...]) -> Shift:
    formulas = facts.formulas
    count = len(demanded)
    here = [facts.at(element, (position,)) for position in range(count)]
    up = formulas.any_of(
        formulas.both(here[p], formulas.any_of(demanded[p + 1 :])) for p in range(count)
    )
    down = formulas.any_of(
        formulas.both(here[p], formulas.any_of(demanded[:p])) for p in range(count)
    )
    moves = facts.variable(MOVES, element)
    chosen = facts.variable(DOWN, element)
    return Shift(
        formulas.all_of((moves, up, formulas.either(-down, -chosen))),
        formulas.all_of((moves, down, formulas.either(-up, chosen))),
    )


def beyond_after(facts: Facts, element: int, position: int, going: Shift) -> Formula:
    """After the step the element stands at `position` or a later one."""
    formulas = facts.formulas
    leaves = formulas.both(facts.at(element, (position,)), going.down)
    comes = formulas.both(facts.at(element, (position - 1,)), going.up)
    return formulas.either(formulas.both(facts.beyond(element, position), -leaves), comes)


Beyond = Callable[[int, int], Formula]
"""After the step the element stands at the position or a later one."""


def kept_after(
    facts: Facts, air: Air, volume: int, beyond: Beyond, untrapped: Container[int] = ()
) -> Formula:
    """What the volume has kept if it is trapped after the step (P4); one that a whole tube joins to
    another goes by what becomes of that one (P7). Where the other is never trapped, so is this one
    while the tube is whole, and what it goes by then makes no difference."""
    formulas = facts.formulas
    may_lose = formulas.either(air.low[volume], air.trapped[volume])
    empty = facts.variable(EMPTY, volume)
    for tube in facts.circuit.passages:
        if tube.tube and tube.end == volume and tube.start not in untrapped:
            whole = met_then(facts, tube.where, beyond)
            near = facts.variable(EMPTY, tube.start)
            empty = formulas.either(formulas.both(whole, near), formulas.both(-whole, empty))
    return formulas.both(air.high[volume], -formulas.both(may_lose, empty))


def met_then(facts: Facts, where: Sequence[Where], beyond: Beyond) -> Formula:
    """After the step every element named stands in one of the positions named."""
    return facts.formulas.all_of(
        at_then(facts, one.element, one.positions, beyond) for one in where
    )


def at_then(facts: Facts, element: int, positions: Sequence[int], beyond: Beyond) -> Formula:
    formulas, last = facts.formulas, len(facts.circuit.elements[element].positions) - 1

    def there(position: int) -> Formula:
        return TRUE if position == 0 else FALSE if position > last else beyond(element, position)

    return formulas.any_of(formulas.both(there(p), -there(p + 1)) for p in positions)


def met_before(facts: Facts, condition: Condition) -> Formula:
    """An assumption is met by the hands that act in the step (O3)."""
    return _met(facts, condition, by_hand(facts))


def met(facts: Facts, condition: Condition) -> Formula:
    """An assumption is met in the state, no momentary hand acting (O3)."""
    return _met(facts, condition, alone(facts))


def met_after(facts: Facts, condition: Condition, beyond: Beyond) -> Formula:
    """An assumption is met after the step, no momentary hand acting (O3, F1)."""
    thing = sketch(condition, lambda atom: _after(facts, atom, beyond))
    return fact(facts.formulas, thing, {})


def _met(facts: Facts, condition: Condition, acting: Acting) -> Formula:
    thing = sketch(condition, lambda atom: truth_of(facts, acting, atom))
    return fact(facts.formulas, thing, {})


def _after(facts: Facts, atom: Plain, beyond: Beyond) -> Formula:
    if isinstance(atom, Hand):
        held = facts.circuit.hands[atom.hand].held
        return facts.variable(HELD_AFTER, atom.hand) if held else FALSE
    if isinstance(atom, Setting):
        return facts.setting(atom.switch, atom.values, SET_AFTER)
    if isinstance(atom, At):
        return at_then(facts, atom.element, atom.positions, beyond)
    raise AssertionError("assumptions speak of hands, switches and faults only")
