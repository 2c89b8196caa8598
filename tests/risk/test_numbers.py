"""Numbers of one property, from rates and times."""

from __future__ import annotations

import math

import pytest

from verifier.risk.numbers import Frequency, Period, numbers

YEAR = 8760


def rates(**of: float | None) -> dict[str, Frequency | None]:
    return {name: None if rate is None else Frequency(rate) for name, rate in of.items()}


def test_a_pair_that_lies_unseen() -> None:
    """Two faults of 1e-6 an hour: over ten years, and with an inspection every year."""
    pair = [{"a", "b"}]
    of = rates(a=1e-6, b=1e-6)
    p = -math.expm1(-1e-6 * 10 * YEAR)
    found = numbers(pair, of, None, Period(10 * YEAR))
    assert found.chance is not None
    assert found.chance.exact == pytest.approx(p**2, rel=1e-14)
    assert found.in_mission == pytest.approx(p**2, rel=1e-14)
    assert (found.beyond, found.channel, found.missing) == (0.0, None, ())
    p = -math.expm1(-1e-6 * YEAR)
    inspected = numbers(pair, of, None, Period(10 * YEAR, YEAR))
    assert inspected.chance is not None
    assert inspected.chance.exact == pytest.approx(p**2, rel=1e-14)
    # Ten years with nothing to do with each other.
    assert inspected.in_mission == pytest.approx(1 - (1 - p**2) ** 10, rel=1e-10)
    assert "find and mend" in " ".join(inspected.cautions)


def test_what_inspection_does_not_find_gathers() -> None:
    of = {"a": Frequency(1e-6), "b": Frequency(1e-6, inspected=False)}
    found = numbers([{"a", "b"}], of, None, Period(10 * YEAR, YEAR))
    p, q = -math.expm1(-1e-6 * YEAR), -math.expm1(-1e-6 * 10 * YEAR)
    assert found.chance is not None
    assert found.chance.exact == pytest.approx(p * q, rel=1e-14)
    assert found.in_mission == pytest.approx(10 * p * q, rel=1e-14)


def test_a_missing_rate_leaves_no_number() -> None:
    found = numbers([{"a", "b"}, {"c"}], rates(a=1e-6, b=None, c=1e-6, d=None), 2, Period(YEAR))
    assert found.missing == ("b",)
    assert found.chance is None
    assert found.importances == ()


def test_what_was_not_looked_for_is_bounded() -> None:
    """Of three faults more than one strikes, all of 1e-5 an hour over a year."""
    of = rates(a=1e-5, b=1e-5, c=1e-5)
    found = numbers([{"a"}], of, 1, Period(YEAR))
    p = -math.expm1(-1e-5 * YEAR)
    assert found.beyond == pytest.approx(3 * p**2 * (1 - p) + p**3, rel=1e-12)
    assert found.chance is not None
    assert found.chance.exact is not None
    assert found.beyond is not None
    assert found.in_mission == pytest.approx(found.chance.exact + found.beyond)
    assert "more than 1 faults were not looked for" in " ".join(found.cautions)
    assert numbers([{"a"}], rates(a=1e-5, b=None), 1, Period(YEAR)).beyond is None
    assert numbers([{"a"}], of, -1, Period(YEAR)).in_mission == 1.0


def test_faults_that_are_enough_alone_are_a_channel() -> None:
    """ISO 13849-1, parts count (from memory): 150, 100 and 50 years are worth 27.27."""
    of = rates(a=1 / (150 * YEAR), b=1 / (100 * YEAR), c=1 / (50 * YEAR), d=1.0, e=1.0)
    found = numbers([{"a"}, {"b"}, {"c"}, {"d", "e"}], of, None, Period(YEAR)).channel
    assert found is not None
    assert found.mttfd == pytest.approx(27.27, abs=0.005)
    assert (found.counted, found.band) == (found.mttfd, "medium")


def test_parts_that_wear_out_before_the_end() -> None:
    of = {"a": Frequency(1e-6, until=23.7), "b": Frequency(1e-6, until=5)}
    told = " ".join(numbers([{"a"}, {"b"}], of, None, Period(20 * YEAR)).cautions)
    assert "1 of the faults are of parts that wear out" in told
    assert "after 5 years `b`" in told


def test_a_family_too_large_for_a_diagram() -> None:
    sets = [{f"a{k}", f"b{k}", "c"} for k in range(20)]
    of = rates(c=1e-6, **{f"{x}{k}": 1e-6 for k in range(20) for x in "ab"})
    found = numbers(sets, of, None, Period(YEAR), most=10)
    whole = numbers(sets, of, None, Period(YEAR)).chance
    assert found.chance is not None
    assert whole is not None
    assert found.chance.exact is None
    assert (found.chance.rare, found.chance.bound) == (whole.rare, whole.bound)
    assert found.in_mission == whole.bound
    assert found.importances == ()
    assert "more than 10 nodes" in found.cautions[0]
