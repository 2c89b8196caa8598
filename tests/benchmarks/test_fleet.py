"""The generated library: the same every time, varied, and with the verdicts that it is said to
have."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from msgspec import structs

from tests.benchmarks.fleet.plans import DEFECTS, MOST, Plan, drawn, fits
from tests.benchmarks.fleet.shelf import (
    approve_all,
    changed,
    looked_at,
    objections,
    proved_again,
    write,
)
from tests.benchmarks.fleet.source import BREAKS, expected, text_of
from verifier.engines.crew import Crew
from verifier.model.load import load_text

PLANS = drawn(1, 1_000)


def small(plan: Plan) -> Plan:
    manifolds = min(plan.manifolds, 2)
    return structs.replace(plan, compartments=2, manifolds=manifolds)


def test_it_is_the_same_every_time() -> None:
    assert drawn(1, 40) == PLANS[:40]
    assert drawn(2, 40) != PLANS[:40]


def test_no_two_are_alike_and_a_tenth_is_defective() -> None:
    texts = [text_of(plan, faults=True) for plan in PLANS]
    assert len(set(texts)) == len({plan.name for plan in PLANS}) == 1_000
    defects = Counter(plan.defect for plan in PLANS)
    assert defects.pop(None) == 900
    assert set(defects) == set(DEFECTS) == set(BREAKS)
    sizes = {(plan.compartments, plan.manifolds) for plan in PLANS}
    assert {(2, 1), MOST} <= sizes
    assert len(sizes) == 21
    for plan in PLANS:
        assert bool(expected(plan, faults=False).violated) == bool(plan.defect)


def one_of_each() -> list[Plan]:
    """A small trailer of each defect and of each way of building without one."""
    found: dict[object, Plan] = {}
    for plan in PLANS:
        key = plan.defect or (plan.style, plan.stop_sort, plan.fuse)
        found.setdefault(key, small(plan))
    return list(found.values())


@pytest.mark.parametrize("plan", one_of_each(), ids=lambda plan: plan.name)
def test_each_has_the_verdict_that_it_must_have(plan: Plan) -> None:
    assert plan.defect is None or fits(plan, plan.defect)
    assert proved_again(plan, None)


def test_with_faults_it_is_a_design(tmp_path: Path) -> None:
    """Those are proved by the command: a torn tube takes its time."""
    for plan in PLANS[:60:6]:
        circuit = load_text(text_of(small(plan), faults=True)).circuit
        assert circuit.properties[-1].tolerating is not None


def test_a_library_on_a_shelf(tmp_path: Path) -> None:
    plans = [small(plan) for plan in PLANS if plan.number in (4, 6, 10)]
    known = write(tmp_path, plans, faults=False)
    crew = Crew(jobs=2)
    assert not approve_all(tmp_path, known, crew)
    told = looked_at(tmp_path, crew)
    assert not list(objections(told, known, approved=True))
    # What is expected is compared at all.
    lie = {f: structs.replace(one, violated=("nothing",)) for f, one in known.items()}
    assert len(list(objections(told, lie, approved=True))) >= 3
    assert expected(changed(plans[0]), faults=False).violated == ()
