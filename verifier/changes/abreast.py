"""Two circuits as one: they share hands and surroundings, and nothing else.

The runs of the pair are pairs of runs with the same events. Things of the old circuit come first,
under names that begin with `old: `; those of the new one follow, under `new: `.
"""

from __future__ import annotations

from msgspec import Struct, structs

from verifier.changes.counterparts import Counterparts
from verifier.changes.side import Offsets, Side
from verifier.diagnostics.span import Span
from verifier.model.circuit import Assumption, Circuit, HandControl, Switch
from verifier.model.condition import Condition, Hand, Not, Setting
from verifier.model.simplify import negate

UNSHARED = "only one of both designs has it"


class Abreast(Struct, frozen=True):
    """left: hands, switches and values that only one of both has, in words; hands and switches stay
    as they start, and the values are not used."""

    circuit: Circuit
    old: Side
    new: Side
    left: tuple[str, ...]


def abreast(between: Counterparts) -> Abreast:
    """The pair, without properties."""
    old, new = between.old, between.new
    hands, own_hands, new_hands = _hands(between)
    switches, new_switches = _switches(between)
    sides = [
        Side("old: ", old, Offsets(), own_hands, tuple(range(len(old.switches))), ()),
        Side("new: ", new, _counts(old), new_hands, new_switches, ()),
    ]
    first, last = (structs.replace(side, values=_values(side, switches)) for side in sides)
    left = (*_left_hands(between, first, last), *_left_switches(between, first, last))
    circuit = structs.replace(
        old,
        name=f"{old.name} beside {new.name}",
        supplies=(*first.supplies(), *last.supplies()),
        parts=(*first.parts(), *last.parts()),
        ports=(*first.ports(), *last.ports()),
        volumes=(*first.volumes(), *last.volumes()),
        lines=(),
        tubes=(),
        elements=(*first.elements(), *last.elements()),
        passages=(*first.passages(), *last.passages()),
        hands=hands,
        switches=switches,
        networks=(*first.networks(), *last.networks()),
        assumptions=(
            *first.assumptions(),
            *last.assumptions(),
            *(
                Assumption(told, UNSHARED, condition, Span("", 1, 1, 1, 1))
                for told, condition in left
            ),
        ),
        properties=(),
        faults=(),
        causes=(),
        exclusions=(),
        rates=(),
    )
    return Abreast(circuit, first, last, tuple(told for told, _ in left))


def _counts(circuit: Circuit) -> Offsets:
    return Offsets(
        supplies=len(circuit.supplies),
        parts=len(circuit.parts),
        ports=len(circuit.ports),
        volumes=len(circuit.volumes),
        elements=len(circuit.elements),
        networks=len(circuit.networks),
    )


def _hands(
    between: Counterparts,
) -> tuple[tuple[HandControl, ...], tuple[int, ...], tuple[int, ...]]:
    """A hand of both is one hand if it can be held in both or in neither, and starts alike."""
    old, new = between.old, between.new
    parts = len(old.parts)
    hands = [structs.replace(hand, name=f"old: {hand.name}") for hand in old.hands]
    shared: dict[int, int] = {}
    for a, b in between.hands.items():
        mine, other = old.hands[a], new.hands[b]
        if (mine.held, mine.starts_on) == (other.held, other.starts_on):
            shared[b] = a
            hands[a] = structs.replace(mine, name=other.name)
    places = []
    for b, hand in enumerate(new.hands):
        if b not in shared:
            shared[b] = len(hands)
            hands.append(structs.replace(hand, name=f"new: {hand.name}", part=hand.part + parts))
        places.append(shared[b])
    return tuple(hands), tuple(range(len(old.hands))), tuple(places)


def _switches(between: Counterparts) -> tuple[tuple[Switch, ...], tuple[int, ...]]:
    """A switch of both is one switch if it starts alike; it has the values of either."""
    old, new = between.old, between.new
    parts = len(old.parts)
    switches = [structs.replace(switch, name=f"old: {switch.name}") for switch in old.switches]
    shared: dict[int, int] = {}
    for a, b in between.switches.items():
        mine, other = old.switches[a], new.switches[b]
        if mine.values[mine.start] == other.values[other.start]:
            shared[b] = a
            values = tuple(dict.fromkeys((*mine.values, *other.values)))
            switches[a] = structs.replace(mine, name=other.name, values=values)
    places = []
    for b, switch in enumerate(new.switches):
        if b not in shared:
            shared[b] = len(switches)
            part = None if switch.part is None else switch.part + parts
            switches.append(structs.replace(switch, name=f"new: {switch.name}", part=part))
        places.append(shared[b])
    return tuple(switches), tuple(places)


def _values(side: Side, switches: tuple[Switch, ...]) -> tuple[tuple[int, ...], ...]:
    return tuple(
        tuple(switches[there].values.index(value) for value in own.values)
        for own, there in zip(side.circuit.switches, side.switches, strict=True)
    )


_Left = tuple[str, Condition]


def _left_hands(between: Counterparts, first: Side, last: Side) -> list[_Left]:
    both = set(first.hands) & set(last.hands)
    found: list[_Left] = []
    for side in (first, last):
        for hand, there in zip(side.circuit.hands, side.hands, strict=True):
            if there not in both:
                stays: Condition = Hand(there)
                if not hand.starts_on:
                    stays = Not(stays)
                found.append((f"{side.name}{hand.name} is left alone", stays))
    return found


def _left_switches(between: Counterparts, first: Side, last: Side) -> list[_Left]:
    both = set(first.switches) & set(last.switches)
    found: list[_Left] = []
    for side, other in ((first, last), (last, first)):
        for own, there in enumerate(side.switches):
            switch = side.circuit.switches[own]
            if there not in both:
                stays = Setting(there, (side.values[own][switch.start],))
                found.append(
                    (f"{side.name}{switch.name} stays {switch.values[switch.start]}", stays)
                )
                continue
            theirs = other.values[other.switches.index(there)]
            for value, number in zip(switch.values, side.values[own], strict=True):
                if number not in theirs:
                    told = f"{side.name}{switch.name} is never {value}"
                    found.append((told, negate(Setting(there, (number,)))))
    return found
