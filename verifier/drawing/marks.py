"""What a drawing shows beside the circuit itself: a state, a flow, a set of parts, a change."""

from __future__ import annotations

from collections import defaultdict
from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit, Way

Pressure = Literal["high", "low", "trapped_high", "trapped_low", "contested"]


class Flowing(Struct, frozen=True):
    """Liquid or vapour that can go from one place of a network (index) to another."""

    network: int
    start: int
    end: int


class Marks(Struct, frozen=True):
    """pressures: for each volume of the circuit, or empty.   positions: for each element, or empty.

    moved: elements that have just moved.   emphasised: parts, such as a proof core or a cut set.
    added, removed, added_lines, removed_lines: parts and volumes of a change.
    """

    pressures: tuple[Pressure, ...] = ()
    positions: tuple[int, ...] = ()
    moved: tuple[int, ...] = ()
    emphasised: tuple[int, ...] = ()
    added: tuple[int, ...] = ()
    removed: tuple[int, ...] = ()
    added_lines: tuple[int, ...] = ()
    removed_lines: tuple[int, ...] = ()
    flows: tuple[Flowing, ...] = ()


def is_open(way: Way, positions: tuple[int, ...]) -> bool:
    return all(positions[where.element] in where.positions for where in way.where)


def streams(circuit: Circuit, marks: Marks) -> dict[tuple[int, int], bool]:
    """The ways (network, way) on which something flows; True: from the way's start to its end."""
    found: dict[tuple[int, int], bool] = {}
    positions = marks.positions or tuple(element.start for element in circuit.elements)
    for flow in marks.flows:
        ways = circuit.networks[flow.network].ways
        onward: dict[int, list[int]] = defaultdict(list)
        backward: dict[int, list[int]] = defaultdict(list)
        for way in ways:
            if is_open(way, positions):
                for a, b in ((way.start, way.end), (way.end, way.start))[: 2 - way.one_way]:
                    onward[a].append(b)
                    backward[b].append(a)
        after, before = _reached(onward, flow.start), _reached(backward, flow.end)
        for k, way in enumerate(ways):
            if not is_open(way, positions):
                continue
            ahead = way.start in after and way.end in before
            back = not way.one_way and way.end in after and way.start in before
            if ahead and back:
                ahead = after[way.start] < after[way.end]
            if ahead or back:
                found[flow.network, k] = ahead
    return found


def _reached(ways: dict[int, list[int]], start: int) -> dict[int, int]:
    """Places that can be reached, with the number of ways to go."""
    found, queue = {start: 0}, [start]
    for here in queue:
        for other in ways[here]:
            if other not in found:
                found[other] = found[here] + 1
                queue.append(other)
    return found
