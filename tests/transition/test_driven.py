"""Which volumes are always driven: what stands anywhere must not matter."""

from __future__ import annotations

import pytest

from tests.simulation.bench import Bench
from verifier.model.circuit import Where
from verifier.transition.driven import MOST_CASES, always_driven, always_one

FULL = ("full",)


def cabinet(elements: int) -> Bench:
    bench = Bench()
    for number in range(elements):
        bench.element(f"valve {number}", ("shut", "open"))
    return bench


def test_one_of_some_conjunctions_is_always_met() -> None:
    circuit = cabinet(2).circuit()
    shut, opened = (Where(0, (position,)) for position in (0, 1))
    other = Where(1, (1,))
    assert always_one(circuit, [(shut,), (opened,)])
    assert always_one(circuit, [(other,), ()])
    assert always_one(circuit, [(shut, other), (opened,), (Where(1, (0,)),)])
    assert not always_one(circuit, [(shut,), (opened, other)])
    assert not always_one(circuit, [(shut,)])
    assert not always_one(circuit, [])


@pytest.mark.parametrize("elements", [5, 14])
def test_more_cases_than_can_be_looked_at_say_nothing(elements: int) -> None:
    """In one case of all, with every valve shut, nothing is met."""
    circuit = cabinet(elements).circuit()
    assert (2**elements > MOST_CASES) == (elements == 14)
    ways = [(Where(element, (1,)), Where(0, (0, 1))) for element in range(elements)]
    assert not always_one(circuit, ways)


def test_a_volume_behind_a_valve_that_always_leads_somewhere() -> None:
    """One way to the supply, the other to the air; the next volume has a way in one position."""
    bench = cabinet(1)
    sky, air = bench.atmosphere(), bench.supply("air")
    middle, end = bench.line("middle"), bench.line("end")
    bench.passage(sky, middle, (0, (0,)))
    bench.passage(air, middle, (0, (1,)))
    bench.passage(middle, end, (0, (1,)))
    assert always_driven(bench.circuit(), FULL) == {sky, air, middle}
