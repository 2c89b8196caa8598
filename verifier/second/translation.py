"""A circuit as formulas: all that the rules say of a state and of a step."""

from __future__ import annotations

from collections.abc import Container

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.condition import Path
from verifier.second.air import Air, Presumed, air_of, contested
from verifier.second.formulas import Formula, Formulas
from verifier.second.movement import (
    alone,
    beyond_after,
    by_hand,
    demands,
    kept_after,
    met,
    met_after,
    met_before,
    must_move,
    shift,
)
from verifier.second.paths import AllPaths
from verifier.second.properties import Observer, Properties, Question
from verifier.second.variables import Facts


class Translation(Struct, frozen=True):
    """Tuples run parallel to those of the circuit.

    demanded: per position (M2).   must_move, at_rest: no momentary hand acting (M3, M6).
    beyond_after: per element and position from the second on, whether it stands there or later
    after the step.   kept_after: per volume (P4).
    state_allowed: all assumptions are met in the state; step_allowed: before and after the step.
    properties: judges states; procedures are made from it.
    """

    circuit: Circuit
    facts: Facts
    air: Air
    contested: Formula
    demanded: tuple[tuple[Formula, ...], ...]
    must_move: tuple[Formula, ...]
    at_rest: Formula
    beyond_after: tuple[tuple[Formula, ...], ...]
    kept_after: tuple[Formula, ...]
    state_allowed: tuple[Formula, ...]
    step_allowed: tuple[Formula, ...]
    properties: Properties
    questions: tuple[Question, ...]
    observers: tuple[Observer, ...]
    paths: dict[Path, Formula]

    @property
    def formulas(self) -> Formulas:
        return self.facts.formulas


def translate(
    circuit: Circuit, possible: Container[str] = (), untrapped: Container[int] = ()
) -> Translation:
    """The second translation of a circuit.

    It is right where none of `air.impossible` is true. possible: descriptions of formulas that must
    not be taken to be impossible.   untrapped: volumes that are never trapped; this decides nothing
    but what is said of whole tubes where it makes no difference.
    """
    formulas = Formulas()
    facts = Facts(circuit, formulas)
    air = air_of(facts, Presumed(formulas, lambda what: what in possible))
    elements = range(len(circuit.elements))
    demanded = tuple(demands(facts, air, e, alone(facts)) for e in elements)
    musts = tuple(must_move(facts, e, demanded[e]) for e in elements)
    rest = formulas.all_of(-must for must in musts)
    paths = AllPaths(facts)
    properties = Properties(facts, air, rest, paths)
    shifts = [shift(facts, e, demands(facts, air, e, by_hand(facts))) for e in elements]

    def beyond(element: int, position: int) -> Formula:
        return beyond_after(facts, element, position, shifts[element])

    numbered = list(enumerate(circuit.properties))
    questions = tuple(q for n, item in numbered for q in properties.questions(n, item))
    return Translation(
        circuit=circuit,
        facts=facts,
        air=air,
        contested=contested(circuit, facts, air),
        demanded=demanded,
        must_move=musts,
        at_rest=rest,
        beyond_after=tuple(
            tuple(beyond(e, position) for position in range(1, len(circuit.elements[e].positions)))
            for e in elements
        ),
        kept_after=tuple(
            kept_after(facts, air, v, beyond, untrapped) for v in range(len(circuit.volumes))
        ),
        state_allowed=tuple(met(facts, one.condition) for one in circuit.assumptions),
        step_allowed=tuple(
            formulas.both(met_before(facts, one.condition), met_after(facts, one.condition, beyond))
            for one in circuit.assumptions
        ),
        properties=properties,
        questions=questions,
        observers=tuple(
            properties.observer(n, i, instance)
            for n, item in numbered
            if item.form == "order"
            for i, instance in enumerate(item.instances)
        ),
        paths=dict(paths.spoken_of),
    )
