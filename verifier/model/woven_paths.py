"""Networks of liquid and vapour with what faults do to them (F3)."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from verifier.model.acting import Acting, unless
from verifier.model.circuit import Circuit, FaultEffect, Network, Way, Where
from verifier.model.strikes import Effect


def woven_networks(
    circuit: Circuit, effects: Sequence[tuple[Effect, Acting]]
) -> tuple[Network, ...]:
    """More ways, which are open while a fault acts, and ways that are shut then."""
    found: dict[str, list[tuple[FaultEffect, Acting]]] = {}
    for effect, fault in effects:
        if isinstance(effect, FaultEffect) and effect.medium is not None:
            found.setdefault(effect.medium, []).append((effect, fault))
    return tuple(_woven(network, found.get(network.medium, [])) for network in circuit.networks)


def _woven(network: Network, effects: Sequence[tuple[FaultEffect, Acting]]) -> Network:
    place = {name: k for k, name in enumerate(network.places)}
    shut: dict[frozenset[int], list[Where]] = {}
    more = []
    for effect, fault in effects:
        ends = [place[name] for name in effect.places if name in place]
        if len(ends) != 2:
            continue  # nothing in the network leads to a place that it does not have
        if effect.effect == "blocks":
            shut.setdefault(frozenset(ends), []).extend(unless([fault]))
        else:
            more.append(Way(None, ends[0], ends[1], effect.one_way, (fault.acts,)))
    ways = [
        structs.replace(way, where=(*way.where, *shut.get(frozenset((way.start, way.end)), ())))
        for way in network.ways
    ]
    return structs.replace(network, ways=(*ways, *more))
