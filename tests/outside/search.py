"""Cut sets of a design by search, each order proved complete."""

from __future__ import annotations

from verifier.engines.cuts import Complete, Cut, Cuts
from verifier.engines.engine import Budget
from verifier.model.circuit import Circuit
from verifier.model.strikes import strikes
from verifier.model.weaving import Woven, weave
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.recovery import recovery
from verifier.transition.system import Goal, System


def cut_sets(circuit: Circuit, number: int, order: int) -> set[frozenset[str]]:
    """Of a property by its number; it has one instance."""
    woven = weave(circuit, strikes(circuit))
    compiled = compile_circuit(woven.circuit)
    system, goal = _asked(compiled, woven, number)
    latches = system.latches
    there = [2 * latches[compiled.element_codes[e][0]].node for e in woven.elements]
    found = list(Cuts(system, goal, there, Budget()).run(order))
    complete = [one.order for one in found if isinstance(one, Complete)]
    assert complete == list(range(order + 1))
    named = [one.faults for one in found if isinstance(one, Cut)]
    return {frozenset(woven.strikes[fault].name for fault in faults) for faults in named}


def _asked(compiled: Compiled, woven: Woven, number: int) -> tuple[System, Goal]:
    if woven.circuit.properties[number].form == "recovers":
        asked = recovery(compiled, number, 0)
        return asked.system, asked.goal
    (goal,) = (
        one.goal for one in compiled.questions if (one.property, one.role) == (number, "bad")
    )
    return compiled.system, goal
