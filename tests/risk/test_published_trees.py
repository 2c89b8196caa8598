"""Published fault trees: their cut sets from the trees, their numbers from the cut sets."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from fractions import Fraction

import pytest

from tests.risk.published import ALL, BAOBAB_1, CHINESE, Published
from tests.risk.trees import Solutions, tree
from verifier.risk.between import between
from verifier.risk.chance import weigh
from verifier.risk.diagram import TooLarge, diagram
from verifier.risk.families import minimal
from verifier.risk.lifetime import struck_within

NAMES = [one.name for one in ALL]


def as_published(value: float, text: str) -> bool:
    """Equal to the digits that were published, rounded or cut off."""
    published = Decimal(text)
    exponent = published.as_tuple().exponent
    assert isinstance(exponent, int)
    return abs(Decimal(value) - published) <= Decimal(1).scaleb(exponent)


@pytest.mark.parametrize("one", ALL, ids=NAMES)
def test_cut_sets_of_the_trees(one: Published) -> None:
    sets = Solutions(one.gates).smallest()
    assert Counter(map(len, sets)) == one.sizes
    if one.sets:
        assert sets == {frozenset(text.split()) for text in one.sets}
    assert set(minimal(sets)) == sets


@pytest.mark.parametrize("one", ALL, ids=NAMES)
def test_numbers_of_the_cut_sets(one: Published) -> None:
    chance = weigh(Solutions(one.gates).smallest(), one.probability).chance
    assert one.exact is not None
    assert as_published(chance.exact, one.exact)
    assert chance.error < 1e-100
    assert one.rare is None or as_published(chance.rare, one.rare)
    assert one.bound is None or as_published(chance.bound, one.bound)
    assert chance.exact <= chance.bound <= chance.rare


# Vesely 1970, Nuclear Engineering and Design 13, 337, figure 1: its sets absorb to pairs of
# {1, 2, 3} and of {4, 5, 6}. Rates as published, probabilities derived again.
@pytest.mark.parametrize(
    ("hours", "expected"),
    [(1000, ".0034877078"), (5000, ".069508352"), (10000, ".21165373")],
)
def test_vesely_over_time(hours: int, expected: str) -> None:
    gates = tree("top = a | b\n a = 2 of (e1, e2, e3)\n b = 2 of (e4, e5, e6)")
    rates = {1: 2.6e-6, 2: 2.6e-6, 3: 2.6e-6, 4: 3.5e-5, 5: 3.5e-5, 6: 3.5e-5}
    of = {f"e{k}": struck_within(rate, hours) for k, rate in rates.items()}
    sets = Solutions(gates).smallest()
    assert len(sets) == 6
    assert as_published(weigh(sets, of).chance.exact, expected)


def test_absorption_of_larger_sets() -> None:
    """As in Vesely's tree, whose events 7 to 10 drop out."""
    pairs = [{"1", "2"}, {"1", "3"}, {"2", "3"}]
    larger = [{"1", "2", "7"}, {"1", "3", "8", "9"}, {"2", "3", "10"}]
    assert set(minimal([*larger, *pairs])) == {frozenset(one) for one in pairs}


def test_singles_and_events_without_effect() -> None:
    """The lift of the public benchmarks: 12 of its 14 events are enough alone, two have no effect;
    all at 1e-6."""
    chance = weigh([{f"e{k}"} for k in range(12)], {f"e{k}": 1e-6 for k in range(14)}).chance
    assert as_published(chance.exact, "1.199993e-5")


def test_many_sets() -> None:
    """Baobab 1: 46,188 sets; their diagram agrees with the diagram of the tree."""
    solutions = Solutions(BAOBAB_1.gates)
    sets = solutions.smallest()
    assert Counter(map(len, sets)) == BAOBAB_1.sizes
    of = {fault: between(p) for fault, p in BAOBAB_1.probability.items()}
    chance = diagram(minimal(sets)).chance(of)
    low, high = chance.bounds()
    assert low <= solutions.probability(BAOBAB_1.probability) <= high
    assert high - low < Fraction(1, 10**100)


def test_a_diagram_that_would_be_too_large() -> None:
    with pytest.raises(TooLarge):
        weigh(Solutions(CHINESE.gates).smallest(), CHINESE.probability, most=30)
