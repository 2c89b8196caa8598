"""Which volumes can be high and which can be low in a state (rules P1 to P6), by graph search."""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.plan import Plan, met, plan_of

Links = list[list[int]]


class Driven(Struct, frozen=True):
    """What air and atmosphere do to each volume, whatever was kept before (P2, P3, P4).

    fed, vented: in the full-bore or in the restricted phase (each volume is driven in one at most).
    full: driven in the full-bore phase.   trapped: driven in neither phase.
    onward: for each trapped volume, the trapped volumes that its air can pass on to in one passage.
    """

    fed: tuple[bool, ...]
    vented: tuple[bool, ...]
    full: tuple[bool, ...]
    trapped: tuple[bool, ...]
    onward: tuple[tuple[int, ...], ...]


class Pressures(Struct, frozen=True):
    """One entry per volume. can_high or can_low is true, or both (P1).

    contested: fed and vented in the same phase. A trapped volume whose group disagrees can be high
    and low without being contested in this sense (P4).
    """

    can_high: tuple[bool, ...]
    can_low: tuple[bool, ...]
    trapped: tuple[bool, ...]
    contested: tuple[bool, ...]
    fed: tuple[bool, ...]
    vented: tuple[bool, ...]

    def either_way(self, volume: int) -> bool:
        """Whether a reader may read the volume as high and as low (P5)."""
        return self.can_high[volume] and self.can_low[volume]


def pressures(circuit: Circuit, state: State) -> Pressures:
    """Rules P1 to P6 for one state. Only the memory of trapped volumes matters."""
    plan = plan_of(circuit)
    key = ("pressures", state.positions, state.settings, state.memory)
    known = plan.known.get(key)
    if known is not None:
        return cast(Pressures, known)
    now = driven(circuit, state.positions, state.settings)
    can_high, can_low = list(now.fed), list(now.vented)
    kept = [v for v, trapped in enumerate(now.trapped) if trapped]
    # P4: air of a trapped volume that kept it passes on; from one that lost it, none comes.
    for volume in reach((v for v in kept if state.memory[v]), now.onward):
        can_high[volume] = True
    back = _reversed(now.onward)
    for volume in reach((v for v in kept if not state.memory[v]), back):
        can_low[volume] = True
    contested = tuple(f and v for f, v in zip(now.fed, now.vented, strict=True))
    return plan.remember(
        key,
        Pressures(tuple(can_high), tuple(can_low), now.trapped, contested, now.fed, now.vented),
    )


def driven(circuit: Circuit, positions: tuple[int, ...], settings: tuple[int, ...]) -> Driven:
    """The full-bore and the restricted phase (P2, P3, P6). Memory plays no part."""
    plan = plan_of(circuit)
    key = ("driven", positions, settings)
    known = plan.known.get(key)
    if known is not None:
        return cast(Driven, known)
    sources, sinks = sources_and_sinks(plan, settings)
    wide, any_bore = _links(plan, positions)
    fed = reach(sources, wide)
    vented = reach(sinks, _reversed(wide))
    full = fed | vented
    # P3: what the full bore drives is a source for the rest and is not changed by it.
    fed |= reach(fed, [_outside(ends, full) for ends in any_bore])
    vented |= reach(vented, [_outside(ends, full) for ends in _reversed(any_bore)])
    count = range(len(circuit.volumes))
    loose = fed | vented
    onward = tuple(() if v in loose else tuple(_outside(any_bore[v], loose)) for v in count)
    return plan.remember(
        key,
        Driven(
            tuple(v in fed for v in count),
            tuple(v in vented for v in count),
            tuple(v in full for v in count),
            tuple(v not in loose for v in count),
            onward,
        ),
    )


def sources_and_sinks(plan: Plan, settings: tuple[int, ...]) -> tuple[list[int], list[int]]:
    """Volumes joined to a supply with air, and to the atmosphere or a supply without air (P2).

    A weak supply is both; several supplies and the atmosphere may meet in one volume.
    """
    sources, sinks = [], list(plan.sinks)
    for switch, values, volume in plan.supplies:
        value = values[settings[switch]]
        if value in ("present", "weak"):
            sources.append(volume)
        if value in ("absent", "weak"):
            sinks.append(volume)
    return sources, sinks


def _links(plan: Plan, positions: tuple[int, ...]) -> tuple[Links, Links]:
    """To which volumes each volume passes air, at full bore and over passages of either bore."""
    wide: Links = [[] for _ in plan.circuit.volumes]
    any_bore: Links = [[] for _ in plan.circuit.volumes]
    for start, end, full, one_way, where in plan.passages:
        if not met(where, positions):
            continue
        for here, there in ((start, end),) if one_way else ((start, end), (end, start)):
            any_bore[here].append(there)
            if full:
                wide[here].append(there)
    return wide, any_bore


def _reversed(links: Links | tuple[tuple[int, ...], ...]) -> Links:
    back: Links = [[] for _ in links]
    for here, ends in enumerate(links):
        for there in ends:
            back[there].append(here)
    return back


def _outside(ends: Iterable[int], volumes: set[int]) -> list[int]:
    return [end for end in ends if end not in volumes]


def reach(starts: Iterable[int], links: Links | tuple[tuple[int, ...], ...]) -> set[int]:
    """The starts and all that they lead to: the least fixpoint (P6)."""
    found = set(starts)
    waiting = sorted(found)
    while waiting:
        for there in links[waiting.pop()]:
            if there not in found:
                found.add(there)
                waiting.append(there)
    return found
