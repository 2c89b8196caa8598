"""The questions of a design in the AIGER format, for any model checker that reads it."""

from __future__ import annotations

from msgspec import Struct

from verifier.model.load import Loaded
from verifier.studies.options import Options
from verifier.studies.prove import begin
from verifier.transition.aiger import ascii_file, binary_file, numbered, together
from verifier.transition.compiled import Compiled
from verifier.transition.system import Goal

# Forms of properties whose instances are a bad state each.
ASKED = ("never", "always", "order")


class Form(Struct, frozen=True):
    """binary: not text.   combined: one bad state for all questions, not one for each."""

    binary: bool = True
    combined: bool = False


def aiger_file(loaded: Loaded, form: Form | None = None) -> bytes:
    """The system with a bad state for each instance of *never*, *always* and *order* that tolerates
    no faults, and for *no contest*; they are reached if and only if the property is violated. What
    is left out is named in the comments. Raises SourceError when the design's assumptions are at
    fault.
    """
    form = form or Form()
    compiled = begin(loaded, Options()).compiled
    goals = bad_states(compiled)
    if form.combined:
        goals = [together(compiled.system, goals)]
    model = numbered(compiled.system, goals)
    write = binary_file if form.binary else ascii_file
    return write(model, _comments(loaded))


def bad_states(compiled: Compiled) -> list[Goal]:
    """Of the sound circuit, in the order of the design, *no contest* last."""
    properties = compiled.circuit.properties
    goals = [
        one.goal
        for one in compiled.questions
        if one.role == "bad" and properties[one.property].tolerating is None
    ]
    return [*goals, compiled.contest]


def _comments(loaded: Loaded) -> list[str]:
    circuit = loaded.circuit
    lines = [
        f"shutproof: {circuit.name}: {circuit.title}, revision {circuit.revision}",
        "Inputs: what happens in a step. Latches: the state. A bad state breaks a property.",
    ]
    for item in circuit.properties:
        if item.form not in ASKED or item.tolerating is not None:
            lines.append(f'not in this file: {item.form} "{item.name}"')
    return [*lines, "not in this file: comes to rest"]
