"""A case in which the translations of a circuit differ, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from verifier.model.circuit import Circuit
from verifier.second import variables as says
from verifier.second.formulas import Variable

_OF_STEPS = {
    says.ACTS: "acts",
    says.HELD_AFTER: "is on after the step",
    says.MOVES: "moves if it may",
    says.DOWN: "goes back if both ways are open",
    says.EMPTY: "comes out empty if it may",
}


def difference(circuit: Circuit, what: str, true: Mapping[Variable, bool]) -> str:
    """What differs, and where: all bits of a state, those of a step that are true."""
    state, step = "; ".join(_state(circuit, true)), "; ".join(_step(circuit, true))
    return (
        f"the two translations of the circuit differ about {what}. In this state they do: {state}."
        + (f" In the step: {step}." if step else "")
    )


def _state(circuit: Circuit, true: Mapping[Variable, bool]) -> Iterator[str]:
    for e, element in enumerate(circuit.elements):
        count = len(element.positions)
        bits = [true.get((says.STANDS, e, k), False) for k in range(1, count)]
        yield f"{element.name} is {element.positions[(*bits, False).index(False)]}"
    for h, hand in enumerate(circuit.hands):
        if true.get((says.HELD, h, 0)):
            yield f"{hand.name} is on"
    for s, switch in enumerate(circuit.switches):
        yield f"{switch.name} is {_value(circuit, s, says.SET, true)}"
    for v, volume in enumerate(circuit.volumes):
        if true.get((says.KEPT, v, 0)):
            yield f"{volume.name} has kept air"
    for (word, number, instance), is_true in true.items():
        if word == says.SEEN and is_true:
            label = circuit.properties[number].instances[instance].label
            name = circuit.properties[number].name
            yield f"“{name}”{f' for {label}' if label else ''} has seen what comes first"
        if word == says.BEGUN and is_true:
            yield f"phase {number + 1} of the procedure has begun"


def _step(circuit: Circuit, true: Mapping[Variable, bool]) -> Iterator[str]:
    for (word, thing, _), is_true in true.items():
        if not is_true:
            continue
        if word in (says.ACTS, says.HELD_AFTER):
            yield f"{circuit.hands[thing].name} {_OF_STEPS[word]}"
        elif word in (says.MOVES, says.DOWN):
            yield f"{circuit.elements[thing].name} {_OF_STEPS[word]}"
        elif word == says.EMPTY:
            yield f"{circuit.volumes[thing].name} {_OF_STEPS[word]}"
        elif word == says.BEGIN:
            yield f"phase {thing + 1} of the procedure begins if it can"
    if any(word == says.SET_AFTER and is_true for (word, _, _), is_true in true.items()):
        for s, switch in enumerate(circuit.switches):
            yield f"{switch.name} is {_value(circuit, s, says.SET_AFTER, true)} after the step"


def _value(circuit: Circuit, switch: int, word: str, true: Mapping[Variable, bool]) -> str:
    values = circuit.switches[switch].values
    bits = [true.get((word, switch, k), False) for k in range(len(values) - 1)]
    return values[(*bits, True).index(True)]
