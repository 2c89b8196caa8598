"""What a design can come to, by explicit search with the simulator."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import msgspec

from verifier.model.circuit import Circuit
from verifier.model.load import load
from verifier.model.run import State
from verifier.simulation.explore import Exploration
from verifier.simulation.movement import at_rest
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import canonical, kept, moved

DESIGNS = Path(__file__).with_name("designs")


@cache
def circuit_named(name: str) -> Circuit:
    return load(DESIGNS / f"{name}.ilk").circuit


@cache
def explored(name: str) -> Exploration:
    exploration = Exploration(circuit_named(name))
    assert exploration.complete
    return exploration


def verdicts(name: str) -> dict[str, str]:
    """The true verdict of each property of a design: the worst of its instances."""
    found: dict[str, str] = {}
    for one in circuit_named(name).properties:
        answers = {explored(name).answer(one, instance).truth for instance in one.instances}
        found[one.name] = next(
            v for v in ("violated", "inconclusive", "vacuous", "holds") if v in answers
        )
    return found


def element(circuit: Circuit, name: str) -> int:
    return next(n for n, e in enumerate(circuit.elements) if e.name == name)


def position(circuit: Circuit, state: State, name: str) -> str:
    number = element(circuit, name)
    return circuit.elements[number].positions[state.positions[number]]


def gates(circuit: Circuit, state: State, names: str) -> str:
    """Outputs of gates, for example "01" of "y1 y2"."""
    outputs = [position(circuit, state, f"{name}.output") for name in names.split()]
    return "".join("1" if output == "one" else "0" for output in outputs)


def air(circuit: Circuit, state: State, line: str) -> str:
    """1 for a line that can only be read as having air, 0 for one without, X for either."""
    volume = next(one.volume for one in circuit.lines if one.name == line)
    found = pressures(circuit, state)
    if found.can_high[volume] and found.can_low[volume]:
        return "X"
    return "1" if found.can_high[volume] else "0"


def setting(circuit: Circuit, state: State, name: str) -> str:
    number = next(n for n, switch in enumerate(circuit.switches) if switch.name == name)
    return circuit.switches[number].values[state.settings[number]]


def put(circuit: Circuit, state: State, **values: str) -> State:
    """The state with switches and positions put as said; `__` in a name stands for a dot."""
    settings, positions = list(state.settings), list(state.positions)
    for name, value in values.items():
        name = name.replace("__", ".")
        switches = [n for n, switch in enumerate(circuit.switches) if switch.name == name]
        if switches:
            settings[switches[0]] = circuit.switches[switches[0]].values.index(value)
        else:
            number = element(circuit, name)
            positions[number] = circuit.elements[number].positions.index(value)
    changed = msgspec.structs.replace(state, settings=tuple(settings), positions=tuple(positions))
    return canonical(circuit, changed)


def hold(circuit: Circuit, state: State, hand: str, on: bool = True) -> State:
    hands = [
        on if h.name == hand else was for h, was in zip(circuit.hands, state.hands, strict=True)
    ]
    return msgspec.structs.replace(state, hands=tuple(hands))


def onward(circuit: Circuit, state: State) -> list[State]:
    """The states that one step leads to while hands and surroundings keep still, nobody acting."""
    return [
        State(positions, state.hands, state.settings, memory)
        for positions in moved(circuit, state, ())
        for memory in kept(circuit, state, positions, state.settings)
    ]


def reachable(circuit: Circuit, state: State) -> list[State]:
    """Every state that it can pass through while hands and surroundings keep still."""
    found = {state: None}
    waiting = [state]
    while waiting:
        for there in onward(circuit, waiting.pop()):
            if there not in found:
                found[there] = None
                waiting.append(there)
    return list(found)


def resting(circuit: Circuit, state: State) -> list[State]:
    """Every state in which it can come to rest while hands and surroundings keep still."""
    return [there for there in reachable(circuit, state) if at_rest(circuit, there)]
