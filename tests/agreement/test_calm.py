"""Rigs and fleets beside the simulator, on random circuits with faults in them."""

from __future__ import annotations

import pytest

from tests.agreement.calm import TooLarge, compare_calm, compare_explanations
from verifier.calm.settling import TooMany


@pytest.mark.parametrize("part", range(6))
def test_what_can_show_is_what_the_simulator_says(part: int) -> None:
    """Rigs say exactly that, fleets never less."""
    compared = 0
    for seed in range(8 * part, 8 * part + 8):
        try:
            compared += compare_calm(seed)
        except TooLarge:
            continue
    assert compared > 200


@pytest.mark.parametrize("part", range(4))
def test_the_true_fault_is_among_the_explanations(part: int) -> None:
    """And explanations are those that going through all states gives."""
    explained = 0
    for seed in range(20 * part, 20 * part + 20):
        try:
            explained += compare_explanations(seed)
        except (TooLarge, TooMany):
            continue
    assert explained > 10
