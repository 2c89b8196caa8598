"""The start, and every step that a state allows (M3 to M5, O1 to O4, P4, P5)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations, product
from typing import cast

from verifier.model.circuit import Assumption, Circuit
from verifier.model.run import State, Step
from verifier.simulation.movement import next_positions, truth
from verifier.simulation.plan import met, plan_of
from verifier.simulation.pressures import Pressures, driven, pressures

Surroundings = tuple[tuple[bool, ...], tuple[int, ...]]
"""The held hands that are on, and the values of the switches."""


def start(circuit: Circuit) -> State:
    """Everything vented, every element, held hand and switch as the design starts it (O4)."""
    return State(
        tuple(element.start for element in circuit.elements),
        tuple(hand.held and hand.starts_on for hand in circuit.hands),
        tuple(switch.start for switch in circuit.switches),
        (False,) * len(circuit.volumes),
    )


def canonical(circuit: Circuit, state: State) -> State:
    """The state with nothing remembered where nothing is trapped (P4)."""
    trapped = driven(circuit, state.positions, state.settings).trapped
    memory = tuple(t and m for t, m in zip(trapped, state.memory, strict=True))
    return State(state.positions, state.hands, state.settings, memory)


def successors(circuit: Circuit, state: State) -> Iterator[Step]:
    """Every step that the rules allow, each once, standing still included.

    All changes of held hands and switches (O1, O2) x all sets of momentary hands (O1) x all sets of
    elements that may move (M4) x all values that trapped volumes may keep (P4, P5), within the
    assumptions (O3). Elements answer to the old state and the hands that act (M5).
    """
    for acting in acting_sets(circuit, state):
        for positions in moved(circuit, state, acting):
            for hands, settings in surroundings(circuit):
                for memory in kept(circuit, state, positions, settings):
                    yield Step(acting, State(positions, hands, settings, memory))


def acting_sets(circuit: Circuit, state: State) -> tuple[tuple[int, ...], ...]:
    """The sets of momentary hands that may act in this state (O1, O3), smaller sets first."""
    momentary = plan_of(circuit).momentary
    sets = (c for size in range(len(momentary) + 1) for c in combinations(momentary, size))
    return tuple(acting for acting in sets if not forbidden(circuit, state, acting))


def surroundings(circuit: Circuit) -> tuple[Surroundings, ...]:
    """Every state of held hands and switches that the assumptions allow (O1, O2, O3)."""
    plan = plan_of(circuit)
    known = plan.known.get("surroundings")
    if known is not None:
        return cast(tuple[Surroundings, ...], known)
    others = [one for one in circuit.assumptions if one not in plan.bounds]
    found = []
    for hands in product(*((False, True) if hand.held else (False,) for hand in circuit.hands)):
        for settings in product(*(range(len(switch.values)) for switch in circuit.switches)):
            state = State((), hands, settings, ())
            if not _excluded_by(circuit, others, state, ()):
                found.append((hands, settings))
    return plan.remember("surroundings", tuple(found))


def forbidden(circuit: Circuit, state: State, acting: tuple[int, ...]) -> tuple[str, ...]:
    """Names of the assumptions that exclude these hands, switches and faults (O3, F1)."""
    return _excluded_by(circuit, circuit.assumptions, state, acting)


def _within_bounds(circuit: Circuit, positions: tuple[int, ...]) -> bool:
    """Whether no assumption on faults excludes these positions of elements (F1)."""
    state = State(positions, (), (), ())
    return not _excluded_by(circuit, plan_of(circuit).bounds, state, ())


def _excluded_by(
    circuit: Circuit, assumptions: Iterable[Assumption], state: State, acting: tuple[int, ...]
) -> tuple[str, ...]:
    return tuple(
        assumption.name
        for assumption in assumptions
        if not truth(circuit, state, assumption.condition, acting, {})
    )


def moved(circuit: Circuit, state: State, acting: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Positions after a step in which any elements that may move do so, none first (M3, M4), and no
    more faults strike than are assumed (F1)."""
    air = pressures(circuit, state)
    every = product(
        *(next_positions(circuit, state, air, e, acting) for e in range(len(circuit.elements)))
    )
    if not plan_of(circuit).bounds:
        return every
    return (positions for positions in every if _within_bounds(circuit, positions))


def kept(
    circuit: Circuit, state: State, positions: tuple[int, ...], settings: tuple[int, ...]
) -> Iterator[tuple[bool, ...]]:
    """What trapped volumes may remember after a step that ends so (P4, P5, P7)."""
    air = pressures(circuit, state)
    trapped = driven(circuit, positions, settings).trapped
    every = product(
        *(_values_kept(air, v) if trapped[v] else (False,) for v in range(len(trapped)))
    )
    whole = [ends for ends in whole_tubes(circuit, positions) if trapped[ends[0]]]
    if not whole:
        return every
    return (memory for memory in every if all(memory[a] == memory[b] for a, b in whole))


def whole_tubes(circuit: Circuit, positions: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    """The two volumes of each tube that is whole (P7); cut off, they are so both."""
    return tuple((a, b) for a, b, where in plan_of(circuit).tubes if met(where, positions))


def _values_kept(air: Pressures, volume: int) -> tuple[bool, ...]:
    """A pressure that the volume can have now; one trapped already may have leaked empty (P4)."""
    empty = air.can_low[volume] or air.trapped[volume]
    return (True,) * air.can_high[volume] + (False,) * empty


def leaked(circuit: Circuit, before: State, after: State) -> tuple[int, ...]:
    """The trapped volumes that could only be high, stayed trapped and lost their air (P4)."""
    lost = [v for v, kept in enumerate(before.memory) if kept and not after.memory[v]]
    if not lost:
        return ()
    air, later = pressures(circuit, before), driven(circuit, after.positions, after.settings)
    return tuple(v for v in lost if air.trapped[v] and not air.can_low[v] and later.trapped[v])


def cost(circuit: Circuit, before: State, step: Step) -> tuple[int, int, int]:
    """(events, surroundings, motions): what operator and surroundings did; how much of it the
    surroundings; elements that moved and leaks."""
    after = step.state
    events = len(step.acting)
    events += sum(a != b for a, b in zip(before.hands, after.hands, strict=True))
    surroundings = sum(a != b for a, b in zip(before.settings, after.settings, strict=True))
    motions = sum(a != b for a, b in zip(before.positions, after.positions, strict=True))
    motions += len(leaked(circuit, before, after))
    return events + surroundings, surroundings, motions
