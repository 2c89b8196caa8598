"""What the ports of a part are for, read from the circuit: which give air and which take it.

Only the data of kinds is used, never their names, so kinds from a user's file are read likewise.
"""

from __future__ import annotations

from collections import deque

from msgspec import Struct

from verifier.model.circuit import Circuit, Passage
from verifier.model.condition import All, Any, Condition, High, Not


class Roles(Struct, frozen=True):
    """Ports of one part, indices into `Circuit.ports`, each in exactly one of the tuples.

    gives: through it air comes out of the part.   takes: air comes in, and goes on in the part.
    reads: air ends there and moves an element.   exhausts: to the atmosphere.
    """

    gives: tuple[int, ...]
    takes: tuple[int, ...]
    reads: tuple[int, ...]
    exhausts: tuple[int, ...]


def healthy(circuit: Circuit, passage: Passage) -> bool:
    """Whether the passage is there while no fault strikes."""
    return all(
        not circuit.elements[where.element].fault
        or circuit.elements[where.element].start in where.positions
        for where in passage.where
    )


def passages_of(circuit: Circuit) -> tuple[tuple[Passage, ...], ...]:
    """For each part, its passages without faults."""
    found: list[list[Passage]] = [[] for _ in circuit.parts]
    for passage in circuit.passages:
        if healthy(circuit, passage):
            found[passage.part].append(passage)
    return tuple(tuple(passages) for passages in found)


def distances(circuit: Circuit) -> tuple[int, ...]:
    """For each volume, through how many passages air from a supply comes to it at least.

    Volumes that no supply reaches have a number larger than all others.
    """
    ways: list[list[int]] = [[] for _ in circuit.volumes]
    for passage in circuit.passages:
        if healthy(circuit, passage):
            ways[passage.start].append(passage.end)
            if not passage.one_way:
                ways[passage.end].append(passage.start)
    far = len(circuit.volumes) + 1
    found = [far] * len(circuit.volumes)
    queue: deque[int] = deque()
    for supply in circuit.supplies:
        if found[supply.volume]:
            found[supply.volume] = 0
            queue.append(supply.volume)
    while queue:
        volume = queue.popleft()
        if circuit.volumes[volume].open_air:
            continue
        for other in ways[volume]:
            if found[other] == far:
                found[other] = found[volume] + 1
                queue.append(other)
    return tuple(found)


def read_ports(condition: Condition) -> set[int]:
    """Ports whose pressure the condition asks for."""
    if isinstance(condition, High):
        return set() if condition.port is None else {condition.port}
    if isinstance(condition, Not):
        return read_ports(condition.of)
    if isinstance(condition, All | Any):
        return {port for inner in condition.of for port in read_ports(inner)}
    return set()


def roles_of(
    circuit: Circuit, part: int, passages: tuple[Passage, ...], far: tuple[int, ...]
) -> Roles:
    """`passages`: those of this part.   `far`: distances of the volumes from the supplies."""
    ports = circuit.parts[part].ports
    through = {port for passage in passages for port in passage.ports}
    exhausts = [port for port in ports if circuit.ports[port].exhaust]
    inner = [port for port in ports if port in through and port not in exhausts]
    emptied = {
        port
        for passage in passages
        for port in passage.ports
        if not set(passage.ports).isdisjoint(exhausts)
    }
    degree = {port: sum(port in passage.ports for passage in passages) for port in inner}
    out_only = {p.ports[1] for p in passages if p.one_way} - {
        port for p in passages for port in (p.ports if not p.one_way else p.ports[:1])
    }
    gives = [port for port in inner if port in emptied and len(inner) > 1]
    if not gives or len(gives) == len(inner):
        gives = [port for port in inner if port in out_only]
    if not gives and len(inner) > 2 and max(degree.values()) > min(degree.values()):
        gives = [port for port in inner if degree[port] == max(degree.values())]
    if not gives and len(inner) > 1:
        nearest = min(far[circuit.ports[port].volume] for port in inner)
        gives = [port for port in inner if far[circuit.ports[port].volume] > nearest] or inner[1:]
    return Roles(
        gives=tuple(gives),
        takes=tuple(port for port in inner if port not in gives),
        reads=tuple(port for port in ports if port not in through and port not in exhausts),
        exhausts=tuple(exhausts),
    )
