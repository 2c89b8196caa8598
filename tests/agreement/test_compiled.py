"""Compiled definitions and simulator say the same of random circuits."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from tests.agreement.circuits import circuit_of, circuits
from tests.agreement.compiled import compare_compiled
from verifier.model.circuit import Circuit


@given(circuits())
@settings(max_examples=100)
def test_compiled_definitions_agree_with_the_simulator(circuit: Circuit) -> None:
    compare_compiled(circuit)


@pytest.mark.parametrize("seed", range(40))
def test_they_agree_on_circuits_by_number(seed: int) -> None:
    compare_compiled(circuit_of(seed), seed)
