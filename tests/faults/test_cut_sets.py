"""All minimal cut sets: against explicit search over every set of faults; seeds of random circuits.

More seeds: python -m tests.agreement.cut_sets FIRST COUNT
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.agreement.cut_sets import compare
from verifier.diagnostics.limits import Limits
from verifier.evidence.certificate import Certificate
from verifier.evidence.error import Unchecked
from verifier.model.load import load
from verifier.report.result import PropertyResult
from verifier.studies import fault_search
from verifier.studies.faults import FaultOptions, faults

DESIGN = Path(__file__).parents[1] / "outside" / "trees" / "two_of_three.ilk"


@pytest.mark.parametrize("seed", range(8))
def test_search_finds_what_visiting_all_states_finds(seed: int) -> None:
    compare(seed)


def test_some_seeds_have_cut_sets() -> None:
    assert sum(map(compare, (3, 4, 5, 6))) > 3


class Impatient:
    """Interrupts at the first question about sets of so many faults."""

    def __init__(self, order: int) -> None:
        self._last = fault_search.SIZES[order]

    def begins(self, design: str, what: str, number: int, among: int) -> None:
        if what == self._last:
            raise KeyboardInterrupt

    def works(self, engine: str, work: int) -> None:
        pass

    def decides(self, design: str, item: PropertyResult) -> None:
        pass


def test_what_was_found_before_an_interrupt_is_checked_and_stands() -> None:
    loaded = load(DESIGN, Limits())
    whole = faults(loaded, FaultOptions(order=1))
    stopped = faults(loaded, FaultOptions(order=2), watcher=Impatient(2))
    assert stopped.interrupted
    assert not whole.interrupted
    for early, late in zip(stopped.properties, whole.properties, strict=True):
        assert [one.complete for one in early.orders] == [True, True]
        assert early.cut_sets == late.cut_sets
        assert early.complete_to == late.complete_to == 1
        assert early.orders[1].proof == late.orders[1].proof


def test_an_order_that_was_not_settled_is_not_told_as_complete(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refused(*_: object) -> Certificate:
        raise Unchecked("no time")

    monkeypatch.setattr(fault_search, "certify_guarded", refused)
    told = faults(load(DESIGN, Limits()), FaultOptions(order=1))
    for item in told.properties:
        assert item.complete_to == -1
        assert all("the checker gave up: no time" in one.reason for one in item.orders)
