"""Probabilities and importances against sums over all states of the faults, on random families."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as some

from verifier.risk.chance import more_than, weigh
from verifier.risk.families import apart, minimal

NAMES = "abcdef"
families = some.lists(some.sets(some.sampled_from(NAMES), min_size=1, max_size=4), max_size=8)
tenths = some.lists(some.integers(0, 10), min_size=len(NAMES), max_size=len(NAMES))


def summed(sets: list[set[str]], of: dict[str, Fraction]) -> Fraction:
    """Probability that all of some set have struck, state by state."""
    total = Fraction(0)
    for state in product((False, True), repeat=len(of)):
        struck = {name for name, one in zip(of, state, strict=True) if one}
        if any(one <= struck for one in sets):
            worth = Fraction(1)
            for name, p in of.items():
                worth *= p if name in struck else 1 - p
            total += worth
    return total


@given(families, tenths)
def test_exact_chance_and_importances(sets: list[set[str]], shares: list[int]) -> None:
    of = {name: Fraction(k, 10) for name, k in zip(NAMES, shares, strict=True)}
    weighed = weigh(sets, of)
    top = summed(sets, of)
    chance = weighed.chance
    assert chance.exact == pytest.approx(float(top), abs=1e-15)
    assert chance.error < 1e-100
    assert chance.exact <= chance.bound + 1e-15
    assert chance.bound <= chance.rare + 1e-15
    smallest = [set(one) for one in minimal(sets)]
    assert {one.fault for one in weighed.importances} == set().union(*smallest, set())
    for one in weighed.importances:
        decides = summed(sets, of | {one.fault: Fraction(1)}) - summed(
            sets, of | {one.fault: Fraction(0)}
        )
        assert one.birnbaum == pytest.approx(float(decides), abs=1e-15)
        if top == 0:
            assert one.criticality is None
            assert one.fussell_vesely is None
            continue
        through = summed([other for other in smallest if one.fault in other], of)
        assert one.criticality == pytest.approx(float(decides * of[one.fault] / top), abs=1e-12)
        assert one.fussell_vesely == pytest.approx(float(through / top), abs=1e-12)


@given(families)
def test_minimal_sets(sets: list[set[str]]) -> None:
    kept = minimal(sets)
    assert set(kept) == {frozenset(one) for one in sets if not any(other < one for other in sets)}
    assert list(kept) == sorted(kept, key=lambda one: (len(one), sorted(one)))


@given(families)
def test_groups_share_no_fault(sets: list[set[str]]) -> None:
    family = minimal(sets)
    groups = apart(family)
    assert sorted(map(sorted, (one for group in groups for one in group))) == sorted(
        map(sorted, family)
    )
    names = [set().union(*group) for group in groups]
    assert all(one.isdisjoint(other) for k, one in enumerate(names) for other in names[:k])


def test_nothing_and_everything() -> None:
    assert weigh([], {}).chance.exact == 0
    assert weigh([[]], {}).chance.exact == 1
    assert weigh([["a"]], {"a": 1.0}).chance.exact == 1
    assert [one.birnbaum for one in weigh([["a"], ["b"]], {"a": 1.0, "b": 0.5}).importances] == [
        0.5,
        0.0,
    ]


@pytest.mark.parametrize("value", [-0.1, 1.1])
def test_no_probability(value: float) -> None:
    with pytest.raises(ValueError, match="`a`"):
        weigh([["a"]], {"a": value})


@given(some.integers(0, 4), tenths)
def test_more_faults_than_looked_for(count: int, shares: list[int]) -> None:
    of = {name: Fraction(k, 10) for name, k in zip(NAMES, shares, strict=True)}
    total = Fraction(0)
    for state in product((False, True), repeat=len(of)):
        if sum(state) > count:
            worth = Fraction(1)
            for p, one in zip(of.values(), state, strict=True):
                worth *= p if one else 1 - p
            total += worth
    low, high = more_than(count, list(of.values())).bounds()
    assert low - Fraction(1, 10**100) <= total <= high + Fraction(1, 10**100)
