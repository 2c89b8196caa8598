"""Accidents as designs: the cut sets that the reports imply come out. Reports: ARIA (the French
register of accidents), NTSB, CSB, the Federal Register; each design names its own."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from tests.outside.search import cut_sets
from verifier.diagnostics.limits import Limits
from verifier.model.load import load
from verifier.risk.structure import structure
from verifier.studies.prove import prove
from verifier.syntax.layout import layout
from verifier.syntax.parse import parse

DESIGNS = Path(__file__).with_name("accidents")
FILES = sorted(DESIGNS.glob("*.ilk"))
NAMES = [path.stem for path in FILES if path.stem != "hose"]


@cache
def sets_of(name: str, number: int, order: int) -> set[frozenset[str]]:
    return cut_sets(load(DESIGNS / f"{name}.ilk").circuit, number, order)


def sets(*texts: str) -> set[frozenset[str]]:
    return {frozenset(text.split(" + ")) for text in texts}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_canonical_layout(path: Path) -> None:
    text = path.read_text()
    assert layout(parse(text, path.name, Limits())) == text


@pytest.mark.parametrize("name", NAMES)
def test_nothing_happens_while_nothing_fails(name: str) -> None:
    result = prove(load(DESIGNS / f"{name}.ilk"))
    assert {item.verdict for item in result.properties if not item.free} == {"holds"}


def test_a_seized_closing_control() -> None:
    """ARIA 44651: the glass broke and the control was seized. One seized control defeats the
    closing of the foot valve; pulling the air hose would still have closed it."""
    assert sets("glass breaks + control stuck") <= sets_of("seized_closing_control", 0, 2)
    alone = sets_of("seized_closing_control", 1, 1)
    assert sets("control stuck", "control turned_off_broken") <= alone
    assert structure(map(len, alone), 1, 20, 0).single == "one is enough"
    pulled = sets_of("seized_closing_control", 2, 1)
    assert sets("control stuck") & pulled == set()
    assert sets("foot stuck") <= pulled


def test_a_line_left_unconnected() -> None:
    """ARIA 45911: the line was not joined and a drain was open; either alone spills nothing."""
    assert sets_of("line_left_unconnected", 0, 3) == sets(
        "joint left_unconnected + drain left_open"
    )


def test_closure_that_rests_on_excess_flow() -> None:
    """61 FR 65480 and NTSB HZM-12-01-SUM: a hose that splits defeats it alone; one that comes apart
    does so when the valve is stuck."""
    assert sets_of("rests_on_excess_flow", 0, 3) == sets(
        "hose splits", "hose comes_apart + limit stuck"
    )


def test_a_shut_down_valve_that_is_stuck() -> None:
    """CSB 2002-04-I-MO: hose, shut-down valve and excess-flow valve failed together, three faults;
    if the hose does not come apart, two are enough."""
    assert sets_of("shut_down_valve_stuck", 0, 3) == sets(
        "hose splits + valve stuck", "hose comes_apart + limit stuck + valve stuck"
    )
