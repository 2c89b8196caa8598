"""The moments of a run as they are drawn: what stands where, which lines have air, what runs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from verifier.drawing.marks import Flowing
from verifier.model.circuit import Circuit, Network
from verifier.model.run import Run, State
from verifier.simulation.plan import met
from verifier.simulation.pressures import Pressures, pressures

Air = Literal["low", "high", "trapped low", "trapped high", "contested"]
WORDS: dict[Air, str] = {
    "low": "no air",
    "high": "air",
    "trapped low": "cut off without air",
    "trapped high": "cut off with air in it",
    "contested": "in between: may be read either way",
}


class Frame(Struct, frozen=True):
    """One moment. acting: momentary hands that acted in the step that led here.

    moved: elements that changed their position in it.   air: of every volume.   joined: of each
    network the groups of its ends that are joined.   flows: what can run between these.
    """

    state: State
    acting: tuple[int, ...]
    moved: tuple[int, ...]
    air: tuple[Air, ...]
    joined: tuple[tuple[tuple[int, ...], ...], ...]
    flows: tuple[Flowing, ...]


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
    joined = tuple(_joined(network, state.positions) for network in circuit.networks)
    return Frame(
        state=state,
        acting=acting,
        moved=moved,
        air=tuple(_reading(air, volume) for volume in range(len(circuit.volumes))),
        joined=joined,
        flows=tuple(
            flow
            for number, network in enumerate(circuit.networks)
            for group in joined[number]
            for flow in _flows(network, number, group)
        ),
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


def _joined(network: Network, positions: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    """The groups of ends that open ways join, whatever their direction."""
    root = list(range(len(network.places)))

    def find(place: int) -> int:
        while root[place] != place:
            root[place] = root[root[place]]
            place = root[place]
        return place

    for way in network.ways:
        if met(way.where, positions):
            a, b = find(way.start), find(way.end)
            root[max(a, b)] = min(a, b)
    members: dict[int, list[int]] = {}
    for end in ends_of(network):
        members.setdefault(find(end), []).append(end)
    return tuple(tuple(found) for found in members.values() if len(found) > 1)


def _flows(network: Network, number: int, group: Sequence[int]) -> list[Flowing]:
    """From where chains begin to where they end; among ends of one sort from the first."""
    begins = {way.start for way in network.ways}
    sources = [place for place in group if place in begins]
    others = [place for place in group if place not in begins]
    if not sources or not others:
        sources, others = list(group[:1]), list(group[1:])
    return [Flowing(number, source, other) for source in sources for other in others]
