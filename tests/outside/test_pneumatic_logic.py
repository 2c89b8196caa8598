"""Published truth tables of pneumatic logic, and of memory, each written as a design.

Sources: textbook truth tables of shuttle and two-pressure valves and of piloted 3/2 valves; latch
tables from memory; the escape of air through a plain tee, a teaching deck on shuttle valves; weak
against strong and stored charge, Bryant's switch-level rules (IEEE TC C-33(2), 1984) read for air.
"""

from __future__ import annotations

import pytest

from tests.outside.outcomes import (
    DESIGNS,
    air,
    circuit_named,
    explored,
    position,
    put,
    reachable,
    resting,
    setting,
    verdicts,
)
from verifier.model.load import load
from verifier.simulation.steps import start

SUPPLY = {"0": "absent", "1": "present"}


@pytest.mark.parametrize(
    "name",
    ["shuttle_or", "two_pressure_and", "series_and", "yes_and_not", "restrictor_against_exhaust"],
)
def test_truth_table_holds(name: str) -> None:
    found = verdicts(name)
    assert len(found) >= 2
    assert set(found.values()) == {"holds"}


# Two signals and the result. X: in between, air goes in by one valve and out by the other.
@pytest.mark.parametrize(
    ("name", "table"),
    [
        ("shuttle_or", {"00": "0", "01": "1", "10": "1", "11": "1"}),
        ("tee_or", {"00": "0", "01": "X", "10": "X", "11": "1"}),
        ("two_pressure_and", {"00": "0", "01": "0", "10": "0", "11": "1"}),
        ("series_and", {"00": "0", "01": "0", "10": "0", "11": "1"}),
    ],
)
def test_truth_table_whatever_went_before(name: str, table: dict[str, str]) -> None:
    """At rest the result depends on the two signals alone."""
    circuit = circuit_named(name)
    found: dict[str, set[str]] = {}
    for state in explored(name).resting_states():
        assert setting(circuit, state, "air") == "present"
        values = (setting(circuit, state, signal) for signal in ("a", "b"))
        signals = "".join("1" if value in ("on", "present") else "0" for value in values)
        found.setdefault(signals, set()).add(air(circuit, state, "result"))
    assert found == {signals: {result} for signals, result in table.items()}


def test_a_tee_is_not_an_or() -> None:
    assert verdicts("tee_or") == {
        "has air when one has": "violated",
        "has none when none has": "holds",
    }
    warnings = load(DESIGNS / "tee_or.ilk").warnings
    assert [warning.code for warning in warnings] == ["W0501"]


def test_shuttle_changing_over() -> None:
    """The pneumatic twin of the static-1 hazard: air at rest, but not always in between."""
    found = verdicts("shuttle_hazard")
    assert found == {"without air": "holds", "without air for a moment": "violated"}


# The line of the result, and what it becomes for (result before, set, reset) = 000, 001 … 111.
LATCHES = {
    "latch_reset_dominant": ("keep", "00101010"),
    "latch_set_dominant": ("result", "00111011"),
    "memory_5_2": ("result", "00101011"),
}


@pytest.mark.parametrize("name", sorted(LATCHES))
@pytest.mark.parametrize("row", range(8))
def test_latch(name: str, row: int) -> None:
    """Both signals come at once, after a rest without signals; the outcome must be unique."""
    circuit = circuit_named(name)
    line, results = LATCHES[name]
    before, set_on, reset_on = list(f"{row:03b}")
    quiet = [
        state
        for state in explored(name).resting_states()
        if setting(circuit, state, "air") == "present"
        and setting(circuit, state, "set") == setting(circuit, state, "reset") == "absent"
        and air(circuit, state, line) == before
    ]
    assert quiet
    for state in quiet:
        begun = put(circuit, state, set=SUPPLY[set_on], reset=SUPPLY[reset_on])
        assert {air(circuit, end, line) for end in resting(circuit, begun)} == {results[row]}


def test_double_pilot_memory_obeys_the_first_comer() -> None:
    circuit = circuit_named("memory_5_2")
    ready = put(circuit, start(circuit), air="present")
    for first, second, expected in (("set", "reset", "1"), ("reset", "set", "0")):
        for state in resting(circuit, put(circuit, ready, **{first: "present"})):
            later = put(circuit, state, **{second: "present"})
            assert {air(circuit, end, "result") for end in resting(circuit, later)} == {expected}


def test_a_pulse_may_or_may_not_set_a_memory() -> None:
    """The pneumatic twin of the glitch latch: a closed and a passing valve in series."""
    circuit = circuit_named("pulse")
    (quiet,) = resting(circuit, start(circuit))
    ends = resting(circuit, put(circuit, quiet, a="on"))
    assert {position(circuit, end, "store.spool") for end in ends} == {"at_12", "at_14"}


def test_trapped_volumes_that_are_joined() -> None:
    """Equal charges that disagree give an unknown: neither reading of it is excluded."""
    circuit = circuit_named("trapped_volumes")
    filled = [
        state
        for state in explored("trapped_volumes").resting_states()
        if position(circuit, state, "fill.spool") == position(circuit, state, "join.spool") == "off"
        and (air(circuit, state, "left"), air(circuit, state, "right")) == ("1", "0")
    ]
    assert filled
    for state in filled:
        joined = put(circuit, state, join__spool="on")
        assert air(circuit, joined, "left") == air(circuit, joined, "right") == "X"
        flags = {position(circuit, s, "lamp.flag") for s in reachable(circuit, joined)}
        assert flags == {"hidden", "showing"}
