"""Whether a state, or a run, breaks a property or is its witness."""

from __future__ import annotations

from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.condition import Condition, Not
from verifier.model.run import Run, State
from verifier.simulation.movement import at_rest, holds_every, holds_some
from verifier.simulation.pressures import pressures
from verifier.simulation.procedure import fails_to_recover, phases_after, recovered


def counts(circuit: Circuit, property: Property, state: State) -> bool:
    """Whether the state is one of the property's moments: any, or those at rest (M6)."""
    return property.moment == "every_moment" or at_rest(circuit, state)


def shows(circuit: Circuit, property: Property, instance: Instance, state: State) -> bool:
    """Whether this state by itself breaks a *never* or *always*, or is the witness of a *possible*.

    Breaking needs one reading of in-between pressures, a witness needs every reading.
    """
    if not counts(circuit, property, state):
        return False
    if property.form == "never":
        return holds_some(circuit, state, instance.condition)
    if property.form == "always":
        return holds_some(circuit, state, Not(instance.condition))
    if property.form == "possible":
        return holds_every(circuit, state, instance.condition)
    raise ValueError(f"{property.form} is judged along a run")


def triggered(circuit: Circuit, property: Property, trigger: Condition, state: State) -> bool:
    """Whether every reading meets the trigger, at one of the property's moments."""
    return counts(circuit, property, state) and holds_every(circuit, state, trigger)


def out_of_order(
    circuit: Circuit, property: Property, instance: Instance, state: State, ready: bool
) -> tuple[bool, bool]:
    """(broken in this state, `ready` for the next) of an *order*: the condition only after `first`.

    `ready`: since some earlier state, `first` has been true without a break, and the condition has
    not come before it. The condition counts as true when some reading meets it, `first` when every
    reading does.
    """
    happens = holds_some(circuit, state, instance.condition)
    granted = instance.first is not None and holds_every(circuit, state, instance.first)
    broken = happens and not (granted and ready) and counts(circuit, property, state)
    return broken, granted and (ready or not happens)


def violation(circuit: Circuit, property: Property, instance: Instance, run: Run) -> bool:
    """Whether the last state of an allowed run breaks the property or is a *possible*'s witness.

    A run for *recovers* must say where its procedure begins.
    """
    states = run.states
    if property.form == "order":
        ready = broken = False
        for state in states:
            broken, ready = out_of_order(circuit, property, instance, state, ready)
        return broken
    if property.form == "recovers":
        return any(
            fails_to_recover(circuit, instance, states[-1], phase)
            for phase in _phases_at_end(circuit, instance, run)
        )
    return shows(circuit, property, instance, states[-1])


def trigger_reached(
    circuit: Circuit, property: Property, instance: Instance, trigger: int, run: Run
) -> bool:
    """Whether the last state of a run meets trigger number `trigger` of the instance."""
    return triggered(circuit, property, instance.triggers[trigger], run.states[-1])


def procedure_over(circuit: Circuit, instance: Instance, run: Run) -> bool:
    """Whether an allowed run carries the procedure out, to its end at rest."""
    return any(
        recovered(circuit, instance, run.states[-1], phase)
        for phase in _phases_at_end(circuit, instance, run)
    )


def _phases_at_end(circuit: Circuit, instance: Instance, run: Run) -> tuple[int, ...]:
    begin = run.procedure_from
    if begin is None or not 0 <= begin <= len(run.steps):
        return ()
    return phases_after(circuit, instance, run.states[begin:], run.steps[begin:])


def fights(circuit: Circuit, state: State) -> bool:
    """Whether air and exhaust fight in some volume although no supply is weak (no contest)."""
    for supply in circuit.supplies:
        if circuit.switches[supply.switch].values[state.settings[supply.switch]] == "weak":
            return False
    return any(pressures(circuit, state).contested)
