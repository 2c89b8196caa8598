"""Conditions in plain English."""

from __future__ import annotations

import pytest

from verifier.diagnostics.limits import Limits
from verifier.model.wording import words
from verifier.syntax import tree
from verifier.syntax.parse import parse


@pytest.mark.parametrize(
    ("condition", "spoken"),
    [
        ("flow(tank[i], c) and not open(vent[i + 1])",
         "flow from tank[2] to c and vent[3] not open"),
        ("not flow(a, b) or joined(a, b)", "no flow from a to b or a joined to b"),
        ("not joined(a, b)", "a not joined to b"),
        ("vapour(a, b) and not vapour_joined(a, b)",
         "a vapour path from a to b and vapour of a not joined to b"),
        ("high(lift[i]) and low(rise)", "lift[2] has air and rise has no air"),
        ("not high(x) and not low(y)", "x has no air and y has air"),
        ("if pressed(stop) then hold_shut(v)", "if stop pressed then v hold shut"),
        ("not (a is in or b is in)", "not (a is in or b is in)"),
        ("(a is in or b is in) and c is not_out", "(a is in or b is in) and c is not out"),
        ("not a is in and not at rest", "a is not in and not at rest"),
        ("every k in 1..i: open(p[k])", "for every k in 1..2: p[k] open"),
        ("some k < m where k <> 2: open(p[k,m - 1])",
         "for some k < m where k <> 2: p[k,m - 1] open"),
        ("not not open(leg[i].p)", "leg[2].p open"),
    ],
)  # fmt: skip
def test_words(condition: str, spoken: str) -> None:
    (statement,) = parse(f'never "x": {condition}\n', "x.ilk", Limits()).statements
    assert isinstance(statement, tree.PropertyStatement)
    assert words(statement.condition, {"i": 2}) == spoken


def test_things_of_an_assembly_have_their_full_names() -> None:
    (statement,) = parse('never "x": open(p[1]) and high(air)\n', "x.ilk", Limits()).statements
    assert isinstance(statement, tree.PropertyStatement)
    assert words(statement.condition, {}, "leg[2]") == "leg[2].p[1] open and leg[2].air has air"
