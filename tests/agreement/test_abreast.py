"""Two designs side by side: random circuits changed a little; see `tests.agreement.abreast`."""

from __future__ import annotations

import pytest

from tests.agreement.abreast import compare_abreast
from tests.agreement.circuits import circuit_of

# Small ones, so that the pair can be searched.
NUMBERS = (6, 8, 12, 15, 17, 19)


@pytest.mark.parametrize("number", NUMBERS)
def test_side_by_side(number: int) -> None:
    assert compare_abreast(circuit_of(number), number) != "too many states"
