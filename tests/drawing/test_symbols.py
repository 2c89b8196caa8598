"""Symbols against ISO 1219-1, from memory: which square rests, what stands at which side.

Truth written by hand, from the conventions and the ISO 11727 port numbers; nothing is taken from
the code under test.
"""

from __future__ import annotations

import pytest

from tests.drawing.designs import CATALOGUE
from verifier.drawing.controls import controls_of
from verifier.drawing.figures import figure_of
from verifier.drawing.openings import openings_of
from verifier.drawing.told import Told, tell
from verifier.model.circuit import moving
from verifier.model.load import load, load_text

TOLD = tell(load(CATALOGUE).circuit)


def part(name: str, told: Told = TOLD) -> int:
    return next(k for k, one in enumerate(told.circuit.parts) if one.name == name)


def passing(name: str) -> list[set[tuple[str, str]]]:
    """For each position the arrows between the ports of a valve."""
    index = part(name)
    openings = openings_of(TOLD, index, moving(TOLD.circuit, index)[0], True)
    return [
        {(openings.labels[path.start], openings.labels[path.end]) for path in paths}
        for paths in openings.paths
    ]


def places(name: str) -> tuple[list[str], list[str]]:
    """Ports above and below the squares, from left to right."""
    index = part(name)
    openings = openings_of(TOLD, index, moving(TOLD.circuit, index)[0], True)
    at = sorted(zip(openings.at, openings.labels, strict=True), key=lambda one: one[0].x)
    return [label for o, label in at if o.top], [label for o, label in at if not o.top]


def sides(name: str, told: Told = TOLD) -> tuple[list[list[str]], list[list[str]]]:
    """What stands at the left and at the right: rows of controls, by their sort or type."""
    controls = controls_of(told.circuit, moving(told.circuit, part(name, told))[0])

    def said(rows: object) -> list[list[str]]:
        return [[c.look or c.sort for c in row] for row in rows]  # type: ignore[attr-defined]

    return said(controls.left), said(controls.right)


@pytest.mark.parametrize(
    ("name", "rest", "worked"),
    [
        ("push_button_3_2", {("2", "3")}, {("1", "2")}),
        ("push_button_3_2_normally_open", {("1", "2")}, {("2", "3")}),
        ("push_pull_5_2", {("1", "2"), ("4", "5")}, {("1", "4"), ("2", "3")}),
        ("lever_2_2", set(), {("1", "2")}),
        ("overfill_sensor", {("in", "out")}, {("out", "exhaust")}),
    ],
)
def test_paths_of_the_squares(
    name: str, rest: set[tuple[str, str]], worked: set[tuple[str, str]]
) -> None:
    assert passing(name) == [rest, worked]


def test_five_three_valve_has_three_squares() -> None:
    assert passing("double_pilot_5_3_exhausted")[1] == {("2", "3"), ("4", "5")}
    assert len(passing("double_pilot_5_3_closed")) == 3


def test_outlets_above_supply_and_exhausts_below() -> None:
    assert places("push_pull_5_2") == (["4", "2"], ["5", "1", "3"])
    assert places("push_button_3_2") == (["2"], ["1", "3"])


@pytest.mark.parametrize(
    ("name", "left", "right"),
    [
        ("push_button_3_2", [["push"]], [["spring"]]),
        ("push_pull_3_2", [["detent", "push_pull"]], [["pilot"]]),
        ("push_pull_3_2_spring", [["pull"]], [["spring"]]),
        ("lever_5_2", [["detent", "lever"]], []),
        ("key_3_2", [["detent", "key"]], []),
        ("emergency_stop_exhausting", [["detent", "mushroom"]], []),
        ("double_pilot_5_2", [["pilot"]], [["pilot"]]),
        ("double_pilot_5_3_closed", [["pilot"], ["spring"]], [["pilot"], ["spring"]]),
        ("solenoid_3_2", [["coil"]], [["spring"]]),
        ("plunger_3_2", [["worked"]], [["spring"]]),
        ("foot_valve", [["pilot"]], [["spring"]]),
    ],
)
def test_controls(name: str, left: list[list[str]], right: list[list[str]]) -> None:
    assert sides(name) == (left, right)


def test_air_that_only_holds_stands_against_a_spring() -> None:
    left, right = sides("push_pull_5_2_held_by_air")
    assert ["pilot"] in left
    assert ["spring"] in right


def test_rest_stands_at_the_right_and_squares_step_to_the_right() -> None:
    index = part("push_button_3_2")
    (one,) = figure_of(TOLD, index, "x").moving
    assert one.start == 0
    assert one.steps == (0, 10)


def test_logic_valves_are_told_by_how_they_move() -> None:
    """A kind of a user's own, under any name, is drawn as what it is."""
    text = """
design own "own kinds"
use standard
kind chooser "whatever"
  ports p, q, r
  element thing: one, two
    in one passes p-r
    in two passes q-r
    to one when high(p) and not high(q)
    to two when high(q) and not high(p)
    otherwise stays
end
kind odd "three ways to be"
  ports supply, left, right
  exhausts away
  hand turned can be held
  element drum: a, b, c
    in a passes left-away, right-away
    in b passes supply-left, right-away
    in c passes supply-right, left-away
    to c when turned by hand
    to b when high(right)
    otherwise to a
end
supply s "air"
part x : chooser
part y : odd
line one : s, x.p, y.supply
line two : x.q, y.left
line three : x.r, y.right
"""
    told = tell(load_text(text).circuit)
    shuttle = figure_of(told, part("x", told), "x").moving[0]
    assert [only.positions for only in shuttle.only] == [(0,), (1,)]
    odd = figure_of(told, part("y", told), "y").moving[0]
    assert odd.steps == (0, odd.steps[1], 2 * odd.steps[1])
    assert sides("y", told)[1] == [["spring"]]
