"""*no race* agrees with explicit search on random circuits."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings

from tests.agreement.circuits import circuit_of, circuits
from tests.agreement.races import compare_races
from verifier.model.circuit import Circuit

EACH = 20


@given(circuits())
@settings(max_examples=30)
def test_on_any_circuit(circuit: Circuit) -> None:
    compare_races(circuit)


@pytest.mark.parametrize("first", range(0, 100, EACH))
def test_on_circuits_by_number(first: int) -> None:
    said = Counter(compare_races(circuit_of(number)) for number in range(first, first + EACH))
    # Where everything came out the same way, or nothing was decided, agreement shows little.
    assert said["no race holds"] > EACH // 8
    assert said["no race delay dependent"] > EACH // 8
    assert said["no race inconclusive"] == 0
