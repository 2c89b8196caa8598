"""What verdicts rest on, in words: what the end of a run shows and why, what is proved."""

from __future__ import annotations

from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.condition import Condition
from verifier.model.run import Run
from verifier.simulation.events import changes_of
from verifier.simulation.pressures import pressures
from verifier.studies.ending import endings
from verifier.studies.facts import facts
from verifier.studies.names import element_name, line_names, spoken

NEVER_OVER = "The procedure can never be carried out to its end, so nothing is said."
AT_REST = "Everything that had to move has moved, and the circuit is at rest."
NO_MOVEMENT = "no run that was looked at has a movement"
NO_TRIGGER = "it speaks of every state at its moments: nothing has to happen first"
WITHOUT = {
    "no contest": "it speaks of every state: nothing has to happen first",
    "no race": "it speaks of every event: none of them has to happen",
}


def nothing_leads(instance: Instance) -> str:
    """Why a *possible* is violated."""
    return f"It is proved that nothing leads to this: {instance.words}."


def never_happens(item: Property, words: str) -> str:
    """Why a property is vacuous; `words` of the trigger that is missing."""
    moment = " at rest" if item.moment == "at_rest" else ""
    return f"This can never happen{moment}, so nothing is said: {words}."


def outcome(circuit: Circuit, item: Property, instance: Instance, run: Run) -> str:
    """Why the last state breaks the property, or that it is what a *possible* asked for."""
    found = facts(circuit, run.states[-1], instance.condition)
    because = f" ({'; '.join(found)})" if found else ""
    if item.form == "never":
        return f"This must never be: {instance.words}{because}."
    if item.form == "always":
        return f"This must always be and is not: {instance.words}{because}."
    if item.form == "possible":
        return f"Now {instance.words}{because}."
    if item.form == "order":
        first = facts(circuit, run.states[-1], instance.first) if instance.first else ()
        so_far = "; ".join(dict.fromkeys((*found, *first)))
        return (
            f"This may come only after {instance.first_words}, and while that lasts: "
            f"{instance.words} ({so_far})."
        )
    return (
        f"The procedure is over ({procedure_words(circuit, instance)}), everything is at rest, and "
        f"this is not so: {instance.words}{because}."
    )


def over_outcome(circuit: Circuit, instance: Instance, run: Run) -> str:
    """That a procedure has been carried out and led where it should."""
    found = facts(circuit, run.states[-1], instance.condition)
    because = f" ({'; '.join(found)})" if found else ""
    return (
        f"The procedure is over ({procedure_words(circuit, instance)}), everything is at rest, and "
        f"so: {instance.words}{because}."
    )


def happening_outcome(circuit: Circuit, trigger: Condition, words: str, run: Run) -> str:
    """That the last state meets a trigger, in these words."""
    found = facts(circuit, run.states[-1], trigger)
    because = f" ({'; '.join(found)})" if found else ""
    return f"This happens: {words}{because}."


def procedure_words(circuit: Circuit, instance: Instance) -> str:
    return ", ".join(
        one.words or _setpoint(circuit, one.hand, one.switch, one.value)
        for one in instance.procedure
    )


def _setpoint(circuit: Circuit, hand: int | None, switch: int | None, value: int) -> str:
    if hand is not None:
        control = circuit.hands[hand]
        part = circuit.parts[control.part].name
        return f"{part} {'' if value else 'no longer '}{spoken(control.label)}"
    if switch is not None:
        return f"{circuit.switches[switch].name} {spoken(circuit.switches[switch].values[value])}"
    return ""


def fight_outcome(circuit: Circuit, run: Run) -> str:
    """Where supply and exhaust fight in the last state."""
    air = pressures(circuit, run.states[-1])
    fought = [volume for volume, both in enumerate(air.contested) if both]
    names = line_names(circuit, fought) or tuple(circuit.volumes[v].name for v in fought)
    where = "line" if len(names) == 1 else "lines"
    return f"Supply and exhaust fight in {where} {', '.join(names)}."


def restless_outcome(circuit: Circuit, run: Run, begin: int) -> str:
    """What moves without end in the loop from state number `begin` on, and what would end it."""
    moving = dict.fromkeys(
        element_name(circuit, change.thing)
        for change in changes_of(circuit, run)
        if change.kind == "move" and change.step >= begin
    )
    ends = endings(circuit, run.states[-1])
    end = f"What would end it: {', or '.join(ends)}." if ends else "No single event would end it."
    return (
        f"As long as hands and surroundings stand still, {', '.join(moving)} "
        f"{'moves' if len(moving) == 1 else 'move'} without end. {end}"
    )
