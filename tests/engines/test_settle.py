"""Coming to rest, on circuits written for it. The truth is explicit search by the simulator."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.agreement.circuits import circuit_of
from verifier.engines.engine import Budget
from verifier.engines.lasso import Loops
from verifier.engines.settle import settles
from verifier.simulation.explore import Exploration
from verifier.simulation.rest import comes_to_rest
from verifier.transition.compile import compile_circuit
from verifier.transition.system import Undecided
from verifier.transition.turning import Settled, Turning

BUDGET = Budget(conflicts=200_000, depth=60)


@pytest.mark.parametrize("first", range(400, 480, 20))
def test_claims_are_true_and_mostly_made(first: int) -> None:
    said: Counter[str] = Counter()
    for seed in range(first, first + 20):
        circuit = circuit_of(seed)
        truth = comes_to_rest(Exploration(circuit)).truth
        finding = settles(compile_circuit(circuit), (), BUDGET)
        assert not (isinstance(finding, Settled) and truth != "holds")
        assert not (isinstance(finding, Loops) and truth != "violated")
        said[type(finding).__name__] += 1
    assert said["Undecided"] <= 8


def test_the_second_moment_shares_hands_and_surroundings_only() -> None:
    """Latches that observe properties change as elements do, so lemmas may speak of them."""
    for seed in range(40):
        compiled = compile_circuit(circuit_of(seed))
        turning = Turning(compiled, ())
        shared = {
            i
            for i, latch in enumerate(compiled.system.latches)
            if turning.then([2 * latch.node]) == [2 * latch.node]
        }
        surroundings = {i for code in compiled.switch_codes for i in code}
        assert shared == surroundings | set(compiled.hand_latches.values())


def test_without_a_budget_there_is_no_claim() -> None:
    finding = settles(compile_circuit(circuit_of(0)), (), Budget(conflicts=1, depth=3))
    assert isinstance(finding, Undecided)
