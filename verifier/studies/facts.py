"""Why a condition is true or false in a state: the facts about the state that it speaks of."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from verifier.model.circuit import Circuit
from verifier.model.condition import All, Any, At, Condition, Hand, High, Not, Path, Setting
from verifier.model.run import State
from verifier.model.woven_air import CHANCE
from verifier.simulation.pressures import pressures
from verifier.studies.names import element_name, spoken


def facts(circuit: Circuit, state: State, condition: Condition) -> tuple[str, ...]:
    """One fact for each thing that the condition mentions, each once, in its order."""
    return tuple(dict.fromkeys(_facts(circuit, state, condition)))


def _facts(circuit: Circuit, state: State, condition: Condition) -> Iterator[str]:
    if isinstance(condition, Not):
        yield from _facts(circuit, state, condition.of)
    elif isinstance(condition, All | Any):
        for one in condition.of:
            yield from _facts(circuit, state, one)
    elif isinstance(condition, High):
        if circuit.volumes[condition.volume].name == CHANCE:
            return
        yield _pressure(circuit, state, condition.volume)
    elif isinstance(condition, At):
        position = circuit.elements[condition.element].positions[state.positions[condition.element]]
        yield f"{element_name(circuit, condition.element)} stands {spoken(position)}"
    elif isinstance(condition, Hand):
        hand = circuit.hands[condition.hand]
        held = "is" if state.hands[condition.hand] else "is not"
        yield f"{circuit.parts[hand.part].name} {held} held {spoken(hand.label)}"
    elif isinstance(condition, Setting):
        switch = circuit.switches[condition.switch]
        yield f"{switch.name} is {spoken(switch.values[state.settings[condition.switch]])}"
    elif isinstance(condition, Path):
        yield _path(circuit, state, condition)


def _pressure(circuit: Circuit, state: State, volume: int) -> str:
    air, name = pressures(circuit, state), circuit.volumes[volume].name
    if air.either_way(volume):
        return f"{name} is at an in-between pressure and may be read either way"
    kept = " although it is cut off" if air.trapped[volume] and air.can_high[volume] else ""
    return f"{name} has {'air' if air.can_high[volume] else 'no air'}{kept}"


def _path(circuit: Circuit, state: State, path: Path) -> str:
    """The open way between two places, written as the language writes a chain."""
    network = circuit.networks[path.network]
    start, end = network.places[path.start], network.places[path.end]
    through = _open_way(circuit, state, path)
    if through is None:
        return f"no open way for {network.medium} from {start} to {end}"
    return f"{network.medium} can pass {' - '.join((start, *through, end))}"


def _open_way(circuit: Circuit, state: State, path: Path) -> list[str] | None:
    """The parts along a shortest open way; None when there is none."""
    network = circuit.networks[path.network]
    came: dict[int, tuple[int, int | None]] = {path.start: (path.start, None)}
    queue = deque([path.start])
    while queue:
        place = queue.popleft()
        for way in network.ways:
            if not all(state.positions[w.element] in w.positions for w in way.where):
                continue
            steps = [(way.start, way.end)]
            if not (way.one_way and path.directed):
                steps.append((way.end, way.start))
            for here, there in steps:
                if here == place and there not in came:
                    came[there] = (here, way.part)
                    queue.append(there)
    if path.end not in came:
        return None
    parts: list[int] = []
    place = path.end
    while place != path.start:
        place, part = came[place]
        if part is not None and part not in parts:
            parts.append(part)
    return [circuit.parts[part].name for part in reversed(parts)]
