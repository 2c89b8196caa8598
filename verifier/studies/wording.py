"""What the end of a run shows, in words, and why: the last paragraph of a story."""

from __future__ import annotations

from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.run import Run
from verifier.simulation.pressures import pressures
from verifier.studies.facts import facts
from verifier.studies.names import line_names, spoken


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
