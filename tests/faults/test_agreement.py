"""Random circuits with random faults woven in: simulator and both translations say the same."""

from __future__ import annotations

import pytest

from tests.agreement.compiled import compare_compiled
from tests.agreement.engines import compare_engines
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


@pytest.mark.parametrize("seed", [0, 1, 2, 4, 5, 6])
def test_engines_give_the_true_answer_on_woven_circuits(seed: int) -> None:
    """Beside explicit search, with proofs checked and runs replayed."""
    assert compare_engines(woven_of(seed).circuit, seed)
