"""How much of interest random circuits have: `python -m tests.agreement.coverage SEED COUNT`."""

from __future__ import annotations

import sys
from collections import Counter
from time import perf_counter

from tests.agreement.circuits import circuit_of
from verifier.model.circuit import Circuit
from verifier.simulation.explore import Exploration
from verifier.simulation.pressures import pressures
from verifier.simulation.rest import comes_to_rest


def features(circuit: Circuit, exploration: Exploration) -> list[str]:
    """What occurs in some reachable state, and every verdict."""
    airs = [pressures(circuit, state) for state in exploration.states]
    volumes = range(len(circuit.volumes))
    found = {
        "contested": any(any(air.contested) for air in airs),
        "trapped with air": any(any(state.memory) for state in exploration.states),
        "trapped and in-between": any(
            air.trapped[v] and air.either_way(v) for air in airs for v in volumes
        ),
        "driven through a restriction only": any(
            not (air.fed[v] and air.vented[v]) and not air.trapped[v] and _narrow(circuit, v)
            for air in airs
            for v in volumes
        ),
        "three positions": any(len(element.positions) > 2 for element in circuit.elements),
        "one-way passage": any(passage.one_way for passage in circuit.passages),
        "assumption": bool(circuit.assumptions),
        "more than three positions visited": len({s.positions for s in exploration.states}) > 3,
        "too large": not exploration.complete,
    }
    verdicts = [f"comes to rest: {comes_to_rest(exploration).truth}"]
    verdicts.append(f"no contest: {exploration.contest().truth}")
    for property in circuit.properties:
        for instance in property.instances:
            answer = exploration.answer(property, instance)
            verdicts.append(f"{property.form}: {answer.truth}")
            if answer.costs is not None:
                verdicts.append(f"steps: {answer.costs[0]}")
    return [name for name, present in found.items() if present] + verdicts


def _narrow(circuit: Circuit, volume: int) -> bool:
    """Whether only restricted passages lead to the volume, and no supply or atmosphere is on it."""
    bores = {p.bore for p in circuit.passages if volume in (p.start, p.end)}
    own = circuit.volumes[volume]
    return bores == {"restricted"} and not own.open_air and not own.supplies


def main(seed: int, count: int) -> None:
    counted: Counter[str] = Counter()
    begin = perf_counter()
    states = 0
    for number in range(seed, seed + count):
        circuit = circuit_of(number)
        exploration = Exploration(circuit)
        states += len(exploration.states)
        counted.update(features(circuit, exploration))
    seconds = perf_counter() - begin
    for name in sorted(counted):
        print(f"{counted[name]:7}  {name}")
    print(f"{count} circuits, {states} states, {seconds:.1f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
