"""What the symbols need to know of a circuit, gathered once."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from verifier.drawing.roles import Roles, distances, passages_of, roles_of
from verifier.model.circuit import Circuit, Passage, Way


class Flow(Struct, frozen=True):
    """A way of a part for liquid or vapour: index of the network and of the way in it."""

    network: int
    way: int


class Told(Struct, frozen=True):
    """passages, flows, roles: for each part.   far: for each volume.   also: of a port the lines
    that it is joined to besides its own, where two circuits are drawn as one."""

    circuit: Circuit
    passages: tuple[tuple[Passage, ...], ...]
    flows: tuple[tuple[Flow, ...], ...]
    roles: tuple[Roles, ...]
    far: tuple[int, ...]
    also: Mapping[int, tuple[int, ...]]

    def way(self, flow: Flow) -> Way:
        return self.circuit.networks[flow.network].ways[flow.way]

    def beyond(self, flow: Flow, place: int, part: int) -> str:
        """What a place of a part is joined to outside of it: a named place or another part."""
        network = self.circuit.networks[flow.network]
        names = []
        for way in network.ways:
            if way.part is None and place in (way.start, way.end):
                other = way.end if way.start == place else way.start
                names.append(network.places[other].rpartition(".")[0] or network.places[other])
        own = self.circuit.parts[part].name
        others = list(dict.fromkeys(name for name in names if name != own))
        return others[0] if len(others) == 1 else f"{len(others)} parts" if others else ""


def tell(circuit: Circuit, also: Mapping[int, tuple[int, ...]] | None = None) -> Told:
    passages = passages_of(circuit)
    far = distances(circuit)
    flows: list[list[Flow]] = [[] for _ in circuit.parts]
    for n, network in enumerate(circuit.networks):
        for w, way in enumerate(network.ways):
            if way.part is not None:
                flows[way.part].append(Flow(n, w))
    roles = [roles_of(circuit, part, passages[part], far) for part in range(len(circuit.parts))]
    return Told(circuit, passages, tuple(map(tuple, flows)), tuple(roles), far, also or {})
