"""What an operator can see, hear or feel of a circuit that has come to rest.

Knobs and whatever else hands move; what nothing else follows, as it is there to be seen (an
indicator, a brake); liquid that can run from one open end of the piping to another; and air that
blows out at full bore. What leaks a little is not counted as heard, and vapour not as seen: so less
is taken to show than perhaps does, and more to sleep.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import combinations

from msgspec import Struct

from verifier.model.circuit import Circuit, Network
from verifier.model.condition import At, Hand, Path
from verifier.model.simplify import atoms
from verifier.model.strikes import Strike, SupplyEffect, TubeEffect
from verifier.model.woven_air import AROUND


class Sign(Struct, frozen=True):
    """One thing that can be told. element: where it stands.   volume: whether air blows out of it.
    paths: whether liquid can run there.   added: no air can blow there unless something fails.
    gauge: whether a gauge on that volume reads air.   spot: part or line at which air blows out of
    a hole that should not be there.
    """

    name: str
    element: int | None = None
    volume: int | None = None
    paths: tuple[Path, ...] = ()
    added: bool = False
    gauge: int | None = None
    spot: str = ""


def signs_of(circuit: Circuit) -> tuple[Sign, ...]:
    """circuit: with faults woven in, which may add ways out for air."""
    return (*_elements(circuit), *_liquid(circuit), *_air(circuit))


def gauges_of(circuit: Circuit) -> tuple[Sign, ...]:
    """What a gauge on each line would tell."""
    return tuple(
        Sign(f"gauge on {line.name}", gauge=line.volume)
        for line in circuit.lines
        if not circuit.volumes[line.volume].open_air
    )


def place_of(circuit: Circuit, element: int) -> Sign:
    """Where any element stands, should somebody see it."""
    return Sign(circuit.elements[element].name, element=element)


def spot_of(circuit: Circuit, strike: Strike) -> str:
    """Where air is heard that a fault lets out: a part, a line, a supply."""
    if strike.part is not None:
        return circuit.parts[strike.part].name
    for effect in strike.effects:
        if isinstance(effect, TubeEffect):
            return circuit.lines[circuit.tubes[effect.tube].line].name
        if isinstance(effect, SupplyEffect):
            return circuit.supplies[effect.supply].name
    return strike.name


def _elements(circuit: Circuit) -> Iterator[Sign]:
    followed = set(_followed(circuit))
    for number, element in enumerate(circuit.elements):
        if element.fault:
            continue
        spoken = [atom for move in element.moves for atom in atoms(move.when)]
        by_hand = any(isinstance(atom, Hand) for atom in spoken)
        if by_hand or number not in followed:
            yield Sign(element.name, element=number)


def _followed(circuit: Circuit) -> Iterator[int]:
    """Elements that something else depends on."""
    for number, element in enumerate(circuit.elements):
        for move in element.moves:
            for atom in atoms(move.when):
                if isinstance(atom, At) and atom.element != number:
                    yield atom.element
    ways = (way for network in circuit.networks for way in network.ways)
    for passage in circuit.passages:
        yield from (where.element for where in passage.where)
    for way in ways:
        yield from (where.element for where in way.where)


def _liquid(circuit: Circuit) -> Iterator[Sign]:
    for number, network in enumerate(circuit.networks):
        if network.medium != "liquid":
            continue
        for one, other in combinations(_ends(network), 2):
            first, second = network.places[one], network.places[other]
            if _family(first) != _family(second):
                there = Path(number, one, other, True), Path(number, other, one, True)
                yield Sign(f"liquid between {first} and {second}", paths=there)


def _ends(network: Network) -> list[int]:
    """Places that one way only leads to, whatever faults add; members of a family are alike, and
    what runs from one to another is not seen outside."""
    ways = {(min(way.start, way.end), max(way.start, way.end)) for way in network.ways}
    times = Counter(place for way in ways for place in way)
    return [place for place in range(len(network.places)) if times[place] == 1]


def _family(name: str) -> str:
    return re.sub(r"\[[^]]*\]", "", name)


def _air(circuit: Circuit) -> Iterator[Sign]:
    for number, volume in enumerate(circuit.volumes):
        if volume.open_air and not volume.supplies:
            added = volume.name == AROUND
            where = "where it should not" if added else f"of {volume.name}"
            yield Sign(f"air blowing out {where}", volume=number, added=added)


def names_of(signs: Iterable[Sign]) -> tuple[str, ...]:
    return tuple(sign.name for sign in signs)
