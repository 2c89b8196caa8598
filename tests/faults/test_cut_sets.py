"""All minimal cut sets: against explicit search over every set of faults; seeds of random circuits.

More seeds: python -m tests.agreement.cut_sets FIRST COUNT
"""

from __future__ import annotations

import pytest

from tests.agreement.cut_sets import compare


@pytest.mark.parametrize("seed", range(8))
def test_search_finds_what_visiting_all_states_finds(seed: int) -> None:
    compare(seed)


def test_some_seeds_have_cut_sets() -> None:
    assert sum(map(compare, (3, 4, 5, 6))) > 3
