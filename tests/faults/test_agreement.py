"""Random circuits with random faults woven in: simulator and both translations say the same."""

from __future__ import annotations

import pytest

from tests.agreement.compiled import compare_compiled
from tests.agreement.faults import woven_of
from tests.agreement.second import compare_second
from verifier.evidence.translations import agree
from verifier.transition.compile import compile_circuit


@pytest.mark.parametrize("seed", range(8))
def test_all_three_agree_on_woven_circuits(seed: int) -> None:
    circuit = woven_of(seed).circuit
    compare_compiled(circuit)
    compare_second(circuit, seed)
    assert not agree(compile_circuit(circuit)).open
