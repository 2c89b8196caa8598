"""What is asked about faults: systems in which any of them may strike, and what breaks what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct, structs

from verifier.engines.guards import Faults
from verifier.model.circuit import Circuit, Instance, Property, Setpoint
from verifier.model.condition import All
from verifier.model.strikes import Strike
from verifier.model.weaving import Woven, weave
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.recovery import Recovery, recovery_of
from verifier.transition.system import Goal, System

Procedure = tuple[Setpoint, ...]

MAY_NOT = (
    "not asked: what is possible stays possible, as a fault may strike but need not; what a fault "
    "that is there takes away is another question"
)


class Claimed(Struct, frozen=True):
    """That a goal is out of reach. property: its number."""

    property: int
    goal: Goal


class Question(Struct, frozen=True):
    """Properties that are asked about one system.

    procedure, recovery: of the *recovers* that it is about, if it is about one.
    acting: of each momentary hand the literal over latches and choices that it acts.
    """

    compiled: Compiled
    system: System
    faults: Faults
    claims: tuple[Claimed, ...]
    procedure: Procedure | None
    recovery: Recovery | None
    acting: dict[int, int]


def why_not(item: Property) -> str:
    """Why a property is not asked about under faults; "" if it is."""
    return MAY_NOT if item.form == "possible" else ""


def woven_of(circuit: Circuit, strikes: Sequence[Strike], properties: Sequence[int]) -> Woven:
    """The circuit with these faults and these of its properties, whatever they tolerate."""
    chosen = tuple(
        structs.replace(circuit.properties[number], tolerating=None) for number in properties
    )
    return weave(structs.replace(circuit, properties=chosen), strikes)


def questions(woven: Woven, numbers: Sequence[int]) -> Iterator[Question]:
    """About the properties of a woven circuit: first those of states, then procedures. numbers:
    what its properties are called."""
    compiled = compile_circuit(woven.circuit)
    faults = _faults(compiled, woven)
    encoding = compiled.meaning.encoding
    claims = tuple(
        Claimed(numbers[one.property], one.goal) for one in compiled.questions if one.role == "bad"
    )
    if claims:
        acting = {hand: 2 * node for hand, node in encoding.acting.items()}
        yield Question(compiled, compiled.system, faults, claims, None, None, acting)
    for place, item in enumerate(woven.circuit.properties):
        if item.form != "recovers":
            continue
        for procedure, instance in _procedures(item).items():
            posed = recovery_of(compiled, item.name, instance)
            claim = Claimed(numbers[place], posed.goal)
            yield Question(compiled, posed.system, faults, (claim,), procedure, posed, posed.acting)


def _procedures(item: Property) -> dict[Procedure, Instance]:
    """For each procedure of a *recovers* one instance: some reading fails one of several conditions
    exactly if it fails their conjunction."""
    found: dict[Procedure, list[Instance]] = {}
    for instance in item.instances:
        found.setdefault(instance.procedure, []).append(instance)
    return {
        procedure: structs.replace(some[0], condition=All(tuple(one.condition for one in some)))
        for procedure, some in found.items()
    }


def _faults(compiled: Compiled, woven: Woven) -> Faults:
    encoding, latches = compiled.meaning.encoding, compiled.system.latches
    bits = [compiled.element_codes[e] for e in woven.elements]
    codes = [tuple(latches[i].node for i in code) for code in bits]
    choices = [
        tuple(some[e] for some in (encoding.go, encoding.down) if e in some) for e in woven.elements
    ]
    return Faults([2 * nodes[0] for nodes in codes], bits, codes, choices)
