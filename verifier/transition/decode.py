"""Between the bits of a system and the states, steps and runs of its circuit."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.model.run import Run, State, Step
from verifier.transition.compiled import Compiled
from verifier.transition.encoding import (
    element_code,
    element_position,
    switch_code,
    switch_value,
)
from verifier.transition.system import Reached


def encode(compiled: Compiled, state: State) -> tuple[bool, ...]:
    """The latches' valuation of a state; the observers of *order* properties as at the start."""
    circuit = compiled.circuit
    values = [latch.start for latch in compiled.system.latches]
    for element, code, position in zip(
        circuit.elements, compiled.element_codes, state.positions, strict=True
    ):
        _put(values, code, element_code(position, len(element.positions)))
    for switch, code, value in zip(
        circuit.switches, compiled.switch_codes, state.settings, strict=True
    ):
        _put(values, code, switch_code(value, len(switch.values)))
    for hand, latch in compiled.hand_latches.items():
        values[latch] = state.hands[hand]
    for volume, latch in compiled.memory_latches.items():
        values[latch] = state.memory[volume]
    return tuple(values)


def state_of(compiled: Compiled, values: Sequence[bool]) -> State:
    """The canonical state that a valuation means; values beyond the circuit's own are ignored."""
    circuit = compiled.circuit
    memory = [False] * len(circuit.volumes)
    air = [volume for volume, latch in compiled.memory_latches.items() if values[latch]]
    for volume, is_trapped in _trapped(compiled, values, air).items():
        memory[volume] = is_trapped
    hands = [False] * len(circuit.hands)
    for hand, latch in compiled.hand_latches.items():
        hands[hand] = values[latch]
    return State(
        tuple(
            # Most elements have two positions, and a run of a large circuit has very many of them.
            int(values[code[0]]) if len(code) == 1 else element_position([values[i] for i in code])
            for code in compiled.element_codes
        ),
        tuple(hands),
        tuple(switch_value([values[i] for i in code]) for code in compiled.switch_codes),
        tuple(memory),
    )


def run_of(compiled: Compiled, reached: Reached) -> Run:
    """The run that an engine claims."""
    return Decoder(compiled).run_of(reached)


class Decoder:
    """Decodes the runs of one search: what they have in common is one thing."""

    def __init__(self, compiled: Compiled) -> None:
        self._compiled = compiled
        self._states: dict[tuple[bool, ...], State] = {}
        self._steps: dict[tuple[tuple[int, ...], int], Step] = {}
        own = {choice.node: place for place, choice in enumerate(compiled.system.choices)}
        acting = compiled.meaning.encoding.acting
        self._acting = [(hand, own[node]) for hand, node in acting.items()]

    def run_of(self, reached: Reached) -> Run:
        """The run that an engine claims."""
        states = [self._state(values) for values in reached.states]
        steps = []
        for chosen, state in zip(reached.choices, states[1:], strict=True):
            acting = tuple(hand for hand, place in self._acting if chosen[place])
            # States are kept, so that their identities are.
            step = self._steps.setdefault((acting, id(state)), Step(acting, state))
            steps.append(step)
        return Run(states[0], tuple(steps))

    def _state(self, values: tuple[bool, ...]) -> State:
        state = self._states.get(values)
        if state is None:
            state = self._states[values] = state_of(self._compiled, values)
        return state


def inputs_of_choices(compiled: Compiled, chosen: Sequence[bool]) -> dict[int, bool]:
    """The values of the choices by input node; those beyond the circuit's own are ignored."""
    own = zip(compiled.system.choices, chosen, strict=False)
    return {choice.node: value for choice, value in own}


def choices_of(compiled: Compiled, before: State, step: Step) -> tuple[bool, ...]:
    """Choices that make this step of the circuit, if it is allowed at all."""
    circuit, encoding, after = compiled.circuit, compiled.meaning.encoding, step.state
    wanted: dict[int, bool] = {}
    for element, node in encoding.go.items():
        wanted[node] = before.positions[element] != after.positions[element]
    for element, node in encoding.down.items():
        wanted[node] = after.positions[element] < before.positions[element]
    for hand, node in encoding.acting.items():
        wanted[node] = hand in step.acting
    for hand, node in encoding.next_held.items():
        wanted[node] = after.hands[hand]
    for nodes, switch, value in zip(
        encoding.next_switches, circuit.switches, after.settings, strict=True
    ):
        wanted.update(zip(nodes, switch_code(value, len(switch.values)), strict=True))
    lost = [v for v in encoding.empty if not after.memory[v]]
    cut_off = _trapped(compiled, encode(compiled, after), lost)
    for volume, node in encoding.empty.items():
        wanted[node] = cut_off.get(volume, False)
    return tuple(wanted[choice.node] for choice in compiled.system.choices)


def _trapped(compiled: Compiled, values: Sequence[bool], volumes: Sequence[int]) -> dict[int, bool]:
    """Which of the volumes are trapped in the state that a valuation means."""
    if not volumes:
        return {}
    system = compiled.system
    inputs = {latch.node: value for latch, value in zip(system.latches, values, strict=False)}
    roots = [compiled.trapped[volume] for volume in volumes]
    return dict(zip(volumes, system.graph.evaluate(roots, inputs), strict=True))


def _put(values: list[bool], code: tuple[int, ...], bits: tuple[bool, ...]) -> None:
    for latch, bit in zip(code, bits, strict=True):
        values[latch] = bit
