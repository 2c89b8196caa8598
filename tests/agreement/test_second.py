"""The second translation says of random circuits what the simulator and the first one do."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from tests.agreement.circuits import circuit_of, circuits
from tests.agreement.second import compare_second
from verifier.evidence.translations import Comparison, agree
from verifier.model.circuit import Circuit
from verifier.transition.compile import compile_circuit
from verifier.transition.recovery import recovery


def agreed(circuit: Circuit) -> Comparison:
    """Both translations compared in all that they say. Raises EvidenceError."""
    compiled = compile_circuit(circuit)
    comparison = agree(compiled)
    for number, item in enumerate(circuit.properties):
        for i in range(len(item.instances) if item.form == "recovers" else 0):
            comparison.recovery(recovery(compiled, number, i), number, i)
    return comparison


@given(circuits())
@settings(max_examples=20)
def test_the_second_translation_agrees_with_the_simulator(circuit: Circuit) -> None:
    compare_second(circuit)


@given(circuits())
@settings(max_examples=30)
def test_both_translations_agree(circuit: Circuit) -> None:
    assert not agreed(circuit).open


@pytest.mark.parametrize("seed", range(40))
def test_all_three_agree_on_circuits_by_number(seed: int) -> None:
    compare_second(circuit_of(seed), seed)
    assert not agreed(circuit_of(seed)).open
