"""The moments of a run as they are drawn: what stands where, which lines have air, what runs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit, Network
from verifier.model.run import Run, State
from verifier.simulation.plan import met
from verifier.simulation.pressures import Pressures, pressures

Air = Literal["low", "high", "trapped low", "trapped high", "contested"]
LETTERS: dict[Air, str] = {
    "low": "l",
    "high": "h",
    "trapped low": "t",
    "trapped high": "k",
    "contested": "c",
}
WORDS: dict[Air, str] = {
    "low": "no air",
    "high": "air",
    "trapped low": "cut off without air",
    "trapped high": "cut off with air in it",
    "contested": "in between: may be read either way",
}

Flow = Literal["shut", "open", "running"]


class Frame(Struct, frozen=True):
    """One moment. acting: momentary hands that acted in the step that led here.

    moved: elements that changed their position in it.   air: of every volume.   flows: of each
    network its ways, in the order of the circuit; running: it lies between two ends of the network
    that are joined.   joined: of each network the groups of its ends that are joined.
    """

    state: State
    acting: tuple[int, ...]
    moved: tuple[int, ...]
    air: tuple[Air, ...]
    flows: tuple[tuple[Flow, ...], ...]
    joined: tuple[tuple[tuple[str, ...], ...], ...]


def frames_of(circuit: Circuit, run: Run) -> tuple[Frame, ...]:
    """The start and the moment after each step."""
    found = [frame_of(circuit, run.start)]
    before = run.start
    for step in run.steps:
        pairs = enumerate(zip(before.positions, step.state.positions, strict=True))
        moved = tuple(element for element, (old, new) in pairs if old != new)
        found.append(frame_of(circuit, step.state, step.acting, moved))
        before = step.state
    return tuple(found)


def frame_of(
    circuit: Circuit, state: State, acting: tuple[int, ...] = (), moved: tuple[int, ...] = ()
) -> Frame:
    """One moment; nothing need have led there."""
    air = pressures(circuit, state)
    streams = [_stream(network, state.positions) for network in circuit.networks]
    return Frame(
        state=state,
        acting=acting,
        moved=moved,
        air=tuple(_reading(air, volume) for volume in range(len(circuit.volumes))),
        flows=tuple(flows for flows, _ in streams),
        joined=tuple(joined for _, joined in streams),
    )


def _reading(air: Pressures, volume: int) -> Air:
    if air.either_way(volume):
        return "contested"
    if air.trapped[volume]:
        return "trapped high" if air.can_high[volume] else "trapped low"
    return "high" if air.can_high[volume] else "low"


def ends_of(network: Network) -> tuple[int, ...]:
    """The places that a design declares, and not the ports of parts through which a chain leads."""
    inner = {
        place for way in network.ways if way.part is not None for place in (way.start, way.end)
    }
    return tuple(place for place in range(len(network.places)) if place not in inner)


def _stream(
    network: Network, positions: tuple[int, ...]
) -> tuple[tuple[Flow, ...], tuple[tuple[str, ...], ...]]:
    """How each way stands, and which ends are joined by open ways, whatever their direction."""
    ends = ends_of(network)
    open_ways = [number for number, way in enumerate(network.ways) if met(way.where, positions)]
    group = _groups(network, open_ways)
    members: dict[int, list[int]] = {}
    for end in ends:
        members.setdefault(group[end], []).append(end)
    joined = {root: found for root, found in members.items() if len(found) > 1}
    running = _between(network, open_ways, set(ends)) if joined else set()
    flows: list[Flow] = ["shut"] * len(network.ways)
    for number in open_ways:
        carries = number in running and group[network.ways[number].start] in joined
        flows[number] = "running" if carries else "open"
    names = tuple(tuple(network.places[end] for end in found) for found in joined.values())
    return tuple(flows), names


def _groups(network: Network, ways: Sequence[int]) -> list[int]:
    """Of each place the least place that open ways join it to."""
    root = list(range(len(network.places)))

    def find(place: int) -> int:
        while root[place] != place:
            root[place] = root[root[place]]
            place = root[place]
        return place

    for number in ways:
        a, b = find(network.ways[number].start), find(network.ways[number].end)
        root[max(a, b)] = min(a, b)
    return [find(place) for place in range(len(network.places))]


def _between(network: Network, ways: Sequence[int], ends: set[int]) -> set[int]:
    """Of these ways those that are left when dead ends are taken away, one after the other."""
    touching: dict[int, set[int]] = {}
    for number in ways:
        for place in (network.ways[number].start, network.ways[number].end):
            touching.setdefault(place, set()).add(number)
    left = set(ways)
    waiting = [p for p, found in touching.items() if len(found) == 1 and p not in ends]
    while waiting:
        place = waiting.pop()
        for number in touching[place] & left:
            left.discard(number)
            way = network.ways[number]
            other = way.end if way.start == place else way.start
            touching[other].discard(number)
            if len(touching[other] & left) == 1 and other not in ends:
                waiting.append(other)
    return left
