"""Which circuits with faults woven in the properties of a circuit are judged of (rules F)."""

from __future__ import annotations

from msgspec import Struct, structs

from verifier.model.circuit import Circuit, Exclusion, Property
from verifier.model.strikes import Strike, strikes
from verifier.model.weaving import weave


class Tolerance(Struct, frozen=True):
    """Properties, by number, that tolerate the same faults, at most so many (None: all) of them."""

    properties: tuple[int, ...]
    faults: tuple[str, ...] | None
    most: int | None


def tolerances(circuit: Circuit) -> tuple[Tolerance, ...]:
    """In the order of the first property of each."""
    found: dict[tuple[tuple[str, ...] | None, int | None], list[int]] = {}
    for number, item in enumerate(circuit.properties):
        if item.tolerating is not None:
            key = (item.tolerating.faults, item.tolerating.most)
            found.setdefault(key, []).append(number)
    return tuple(Tolerance(tuple(numbers), *key) for key, numbers in found.items())


def considered(circuit: Circuit, item: Property) -> tuple[Strike, ...]:
    """The faults that a property tolerates; none for one of the sound circuit."""
    if item.tolerating is None:
        return ()
    every, chosen = strikes(circuit), item.tolerating.faults
    if chosen is None:
        return every
    wanted = frozenset(chosen)
    return tuple(one for one in every if one.name in wanted)


def left_out(circuit: Circuit, item: Property) -> tuple[Exclusion, ...]:
    """The exclusions but for which it would tolerate more, each with those faults alone (F4)."""
    if item.tolerating is None:
        return ()
    spoken = item.tolerating.excluded
    found = []
    for one in circuit.exclusions:
        faults = one.faults if spoken is None else tuple(f for f in one.faults if f in spoken)
        if faults:
            found.append(structs.replace(one, faults=faults))
    return tuple(found)


def woven(circuit: Circuit, tolerance: Tolerance) -> Circuit:
    """The circuit of which these properties are judged; it has no others."""
    properties = tuple(circuit.properties[number] for number in tolerance.properties)
    own = structs.replace(circuit, properties=properties)
    return weave(own, considered(circuit, properties[0]), tolerance.most).circuit
