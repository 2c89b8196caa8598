"""Rigs and fleets beside the simulator, on random circuits with faults in them."""

from __future__ import annotations

import pytest

from tests.agreement.calm import TooLarge, compare_calm


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
