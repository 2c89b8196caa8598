"""The phases of the procedure of a *recovers* property (Q-rules of grammar/REFERENCE.md).

Phase k puts the k-th setpoint and waits for rest; one more phase, in which nothing acts, follows.
- A step of phase k leaves all hands and switches as they are, but for the setpoint, which is in
  force after it. A momentary hand put on acts in every step of its phase; no other hand acts.
- A phase may end at a state in which its setpoint is in force and no element must move, its
  momentary hand counted as acting. It may end without a step. It need not end: an element that may
  move can still do so.
- In the last phase, at a state at rest, the condition must hold under every reading.
Assumptions (O3) bind the steps of a procedure as they bind all others.
"""

from __future__ import annotations

import msgspec

from verifier.model.circuit import Circuit, Instance, Setpoint
from verifier.model.condition import Not
from verifier.model.run import State, Step
from verifier.simulation.movement import at_rest, holds_some


def phases_begun(circuit: Circuit, instance: Instance, state: State, phase: int) -> tuple[int, ...]:
    """The phases that can be under way at this state, given that `phase` is."""
    found = [phase]
    while found[-1] < len(instance.procedure) and _may_end(circuit, instance, state, found[-1]):
        found.append(found[-1] + 1)
    return tuple(found)


def acting_in(circuit: Circuit, instance: Instance, phase: int) -> tuple[int, ...]:
    """The momentary hands that act in the steps of a phase."""
    if phase == len(instance.procedure):
        return ()
    setpoint = instance.procedure[phase]
    momentary = setpoint.hand is not None and not circuit.hands[setpoint.hand].held
    return (setpoint.hand,) if momentary and setpoint.hand is not None and setpoint.value else ()


def put(circuit: Circuit, instance: Instance, phase: int, state: State) -> State:
    """The state with hands and switches as they stand after a step of the phase."""
    if phase == len(instance.procedure):
        return state
    setpoint = instance.procedure[phase]
    hands, settings = list(state.hands), list(state.settings)
    if setpoint.hand is not None and circuit.hands[setpoint.hand].held:
        hands[setpoint.hand] = bool(setpoint.value)
    if setpoint.switch is not None:
        settings[setpoint.switch] = setpoint.value
    return msgspec.structs.replace(state, hands=tuple(hands), settings=tuple(settings))


def follows(circuit: Circuit, instance: Instance, phase: int, before: State, step: Step) -> bool:
    """Whether an allowed step is one of the phase."""
    wanted = put(circuit, instance, phase, before)
    after = step.state
    return step.acting == acting_in(circuit, instance, phase) and (
        (after.hands, after.settings) == (wanted.hands, wanted.settings)
    )


def phases_after(
    circuit: Circuit, instance: Instance, states: tuple[State, ...], steps: tuple[Step, ...]
) -> tuple[int, ...]:
    """The phases that can be under way at the end of a run of the procedure; none if no split of
    the steps into phases follows it. `states[i]` to `states[i + 1]` is `steps[i]`."""
    current = set(phases_begun(circuit, instance, states[0], 0))
    for before, step in zip(states, steps, strict=False):
        going_on = sorted(p for p in current if follows(circuit, instance, p, before, step))
        current = {
            begun for p in going_on for begun in phases_begun(circuit, instance, step.state, p)
        }
    return tuple(sorted(current))


def fails_to_recover(circuit: Circuit, instance: Instance, state: State, phase: int) -> bool:
    """Whether the procedure is over, all is at rest, and some reading fails the condition."""
    return recovered(circuit, instance, state, phase) and holds_some(
        circuit, state, Not(instance.condition)
    )


def recovered(circuit: Circuit, instance: Instance, state: State, phase: int) -> bool:
    """Whether the procedure is over and all is at rest, whatever came of the condition."""
    return phase == len(instance.procedure) and at_rest(circuit, state)


def _may_end(circuit: Circuit, instance: Instance, state: State, phase: int) -> bool:
    if not _in_force(circuit, instance.procedure[phase], state):
        return False
    return at_rest(circuit, state, acting_in(circuit, instance, phase))


def _in_force(circuit: Circuit, setpoint: Setpoint, state: State) -> bool:
    if setpoint.switch is not None:
        return state.settings[setpoint.switch] == setpoint.value
    if setpoint.hand is not None and circuit.hands[setpoint.hand].held:
        return state.hands[setpoint.hand] == bool(setpoint.value)
    return True
