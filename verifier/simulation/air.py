"""Where the pressure of a volume comes from: the open passages to a supply or to the atmosphere."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit, Passage
from verifier.model.run import State
from verifier.simulation.plan import met, plan_of
from verifier.simulation.pressures import Driven, driven, pressures


class Hop(Struct, frozen=True):
    """Air passes through `part` from its port `start` to its port `end`."""

    part: str
    start: str
    end: str
    restricted: bool


class AirPath(Struct, frozen=True):
    """A shortest way of air, in the direction of flow. `source`: from a supply to the volume; else
    from the volume to the open air, or to a supply without air. `end` names that supply, or the
    volume that is open to the air.
    """

    source: bool
    end: str
    open_air: bool
    hops: tuple[Hop, ...]


class Air(Struct, frozen=True):
    """The pressure of a volume and its ways (P1 to P5). trapped: cut off, so it has no ways."""

    volume: str
    reading: Literal["high", "low", "between"]
    trapped: bool
    fed: AirPath | None
    vented: AirPath | None


def air_of(circuit: Circuit, state: State, volume: int) -> Air:
    """What the volume's pressure is in a state and what makes it so."""
    now = pressures(circuit, state)
    reading: Literal["high", "low", "between"] = "low"
    if now.can_high[volume]:
        reading = "between" if now.can_low[volume] else "high"
    return Air(
        volume_name(circuit, volume),
        reading,
        now.trapped[volume],
        air_path(circuit, state, volume, source=True) if now.fed[volume] else None,
        air_path(circuit, state, volume, source=False) if now.vented[volume] else None,
    )


def air_path(circuit: Circuit, state: State, volume: int, *, source: bool) -> AirPath | None:
    """A way with fewest passages from a supply (`source`) or to the atmosphere; None without one.

    A volume driven at full bore has a full-bore way (P2). That of another one leads over volumes
    not driven at full bore to one that is, and on from there (P3).
    """
    force = driven(circuit, state.positions, state.settings)
    ends = _ends(circuit, state, source)
    came: dict[int, tuple[int, Hop] | None] = {volume: None}
    queue = [volume]
    for here in queue:
        if here in ends:
            return AirPath(source, *ends[here], _hops(came, here, source))
        for there, hop in _from(circuit, state, here, force, source):
            if there not in came:
                came[there] = (here, hop)
                queue.append(there)
    return None


def _ends(circuit: Circuit, state: State, source: bool) -> dict[int, tuple[str, bool]]:
    """The volumes where ways end: (name of what is there, whether it is the open air)."""
    found: dict[int, tuple[str, bool]] = {}
    for index, volume in enumerate(circuit.volumes):
        if volume.open_air and not source:
            found[index] = (volume_name(circuit, index), True)
    for supply in circuit.supplies:
        value = circuit.switches[supply.switch].values[state.settings[supply.switch]]
        if value in (("present", "weak") if source else ("absent", "weak")):
            found.setdefault(supply.volume, (supply.name, False))
    return found


def _from(
    circuit: Circuit, state: State, here: int, force: Driven, source: bool
) -> list[tuple[int, Hop]]:
    """One passage further away from the volume: against the flow if a source is sought."""
    usable: Callable[[Passage, int], bool]
    if force.full[here]:

        def usable(passage: Passage, there: int) -> bool:
            return passage.bore == "full"
    else:

        def usable(passage: Passage, there: int) -> bool:
            return not force.full[there] or (force.fed if source else force.vented)[there]

    found = []
    for passage in plan_of(circuit).touching[here]:
        if not met(passage.where, state.positions):
            continue
        a, b = (circuit.ports[port].label for port in passage.ports)
        part, narrow = circuit.parts[passage.part].name, passage.bore == "restricted"
        legs = [(passage.start, passage.end, Hop(part, a, b, narrow))]
        if not passage.one_way:
            legs.append((passage.end, passage.start, Hop(part, b, a, narrow)))
        for start, end, hop in legs:
            near, far = (end, start) if source else (start, end)
            if near == here and usable(passage, far):
                found.append((far, hop))
    return found


def _hops(came: dict[int, tuple[int, Hop] | None], end: int, source: bool) -> tuple[Hop, ...]:
    found = []
    step = came[end]
    while step is not None:
        found.append(step[1])
        step = came[step[0]]
    return tuple(found if source else reversed(found))


def volume_name(circuit: Circuit, volume: int) -> str:
    """`line home`, or `port master.4` where there is no line."""
    what = "port" if circuit.volumes[volume].line is None else "line"
    return f"{what} {circuit.volumes[volume].name}"
