"""Engines, evidence and explicit search agree on random circuits."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings

from tests.agreement.circuits import circuit_of, circuits
from tests.agreement.engines import compare_engines
from verifier.model.circuit import Circuit

EACH = 20


@given(circuits())
@settings(max_examples=60)
def test_on_any_circuit(circuit: Circuit) -> None:
    compare_engines(circuit)


@pytest.mark.parametrize("first", range(0, 200, EACH))
def test_on_circuits_by_number(first: int) -> None:
    said: Counter[str] = Counter()
    for number in range(first, first + EACH):
        said += compare_engines(circuit_of(number), number)
    # A comparison in which everything came out the same way, or nothing was decided, shows little.
    assert said["proved"] > EACH
    assert said["reached"] > EACH
    assert said["rest settled"] > EACH // 2
