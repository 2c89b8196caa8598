"""The questions that properties ask, and the observers of *order* (property rules)."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.model.circuit import Circuit, Instance, Property
from verifier.transition.compiled import Question
from verifier.transition.conditions import Meaning
from verifier.transition.graph import FALSE, TRUE
from verifier.transition.system import Goal, Latch


class Observers:
    """A latch for each *order*: its first condition has held without a break since some earlier
    state, and the other has not come before it. It starts false."""

    def __init__(self) -> None:
        self.latches: list[Latch] = []

    def broken(self, meaning: Meaning, name: str, instance: Instance) -> int:
        """The condition happens (some reading) when the other was not granted (every reading) or
        not before it. Adds the latch that watches."""
        graph = meaning.graph
        happens = meaning.some(instance.condition)
        granted = FALSE if instance.first is None else meaning.every(instance.first)
        ready = graph.input(name)
        following = graph.both(granted, graph.either(ready, happens ^ 1))
        self.latches.append(Latch(name, ready >> 1, False, following))
        return graph.both(happens, graph.both(granted, ready) ^ 1)


def questions_of(
    circuit: Circuit, meaning: Meaning, at_rest: int, observers: Observers
) -> Iterator[Question]:
    """All questions, in the order of properties and instances; triggers after the verdict's own."""
    for p, property in enumerate(circuit.properties):
        moment = TRUE if property.moment == "every_moment" else at_rest
        met: dict[int, int] = {}  # of triggers, which are the same objects in many instances
        for i, instance in enumerate(property.instances):
            name = goal_name(property, instance)
            if property.form == "possible":
                literal = meaning.graph.both(moment, meaning.every(instance.condition))
                yield Question(p, i, "witness", 0, Goal(f"witness:{name}", literal))
            elif property.form != "recovers":
                literal = _broken(meaning, moment, property, instance, observers)
                yield Question(p, i, "bad", 0, Goal(f"bad:{name}", literal))
            for index, trigger in enumerate(instance.triggers):
                known = met.get(id(trigger))
                if known is None:
                    known = met[id(trigger)] = meaning.every_at(moment, trigger)
                yield Question(p, i, "trigger", index, Goal(f"trigger {index + 1}:{name}", known))


def _broken(
    meaning: Meaning, moment: int, property: Property, instance: Instance, observers: Observers
) -> int:
    match property.form:
        case "never":
            return meaning.some_at(moment, instance.condition)
        case "always":
            return meaning.some_at(moment, instance.condition, sense=False)
        case "order":
            name = f"watch on {goal_name(property, instance)}"
            return meaning.graph.both(moment, observers.broken(meaning, name, instance))
    raise ValueError(f"a state cannot break a {property.form} property")


def goal_name(property: Property, instance: Instance) -> str:
    return f"{property.name}[{instance.label}]" if instance.label else property.name
