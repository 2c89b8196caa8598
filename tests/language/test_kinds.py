"""Every kind of the catalogue against a truth table written by hand.

Compilers and simulator share the catalogue, so nothing but hand-written truth can find a mistake in
it. Sources: ISO 11727 path names (path sets from memory), ISO 1219-1 symbols (from memory), common
practice for everything that belongs to tanks and vehicles.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.language.truth import (
    ALWAYS,
    TABLES,
    Leg,
    Trial,
    expected_air,
    read_legs,
    read_tables,
)
from verifier.diagnostics.limits import Limits
from verifier.model.circuit import Passage, Way, Where
from verifier.shipped import grammar_folder
from verifier.simulation.movement import holds_every, holds_some
from verifier.syntax import tree
from verifier.syntax.parse import parse

CATALOGUE = parse((grammar_folder() / "standard.ilk").read_text(), "standard.ilk", Limits())
KINDS = {item.name: item for item in CATALOGUE.statements if isinstance(item, tree.Kind)}
TABLE = read_tables(TABLES.read_text())


@pytest.fixture(scope="module", params=sorted(KINDS))
def trial(request: pytest.FixtureRequest) -> Trial:
    return Trial(KINDS[request.param], TABLE[request.param])


def test_every_kind_has_a_table_and_every_table_a_kind() -> None:
    assert sorted(KINDS) == sorted(TABLE)
    assert len(KINDS) == sum(isinstance(item, tree.Kind) for item in CATALOGUE.statements)


@pytest.mark.parametrize("name", sorted(KINDS))
def test_every_kind_is_documented_and_can_fail(name: str) -> None:
    kind = KINDS[name]
    faults = [item for item in kind.items if isinstance(item, tree.FaultItem)]
    assert kind.doc
    assert faults
    for fault in faults:
        listed = (fault.source or "").startswith("ISO 13849-2:2012 Table B.")
        assert listed or fault.source == "common practice", fault.name
        assert fault.doc, fault.name
        assert fault.effects, fault.name


# No spring drives it: the level does, the hand does, or it stands for what is not known.
WITHOUT_SPRING = {"overfill_sensor", "outlet_cap", "regulator"}


@pytest.mark.parametrize("name", sorted(KINDS))
def test_faults_of_the_lists_are_there(name: str) -> None:
    """ISO 13849-2:2012 Annex B (from memory): moving elements stick or move unbidden, springs
    break, what carries air leaks or bursts, exhausts are blocked. Hands: common practice.
    """
    items = KINDS[name].items
    faults = [item for item in items if isinstance(item, tree.FaultItem)]
    effects = {effect.effect for fault in faults for effect in fault.effects}
    elements = [item for item in items if isinstance(item, tree.ElementItem)]
    moves = [move for element in elements for move in element.items]
    if elements and name != "regulator":
        assert "shifts" in effects
        assert "sticks" in effects or name == "outlet_cap"
    if any(isinstance(move, tree.Otherwise) and move.target for move in moves):
        assert "no_spring" in effects or name in WITHOUT_SPRING
    if any(isinstance(item, tree.Ports) and item.medium is None for item in items):
        assert effects & {"leaks", "vents", "bursts", "blocks"}
    if any(isinstance(item, tree.Exhausts) for item in items):
        assert "blocks" in effects
    if any(isinstance(item, tree.HandItem) for item in items):
        assert effects & {"held", "dead"}


def test_positions_join_what_the_table_says(trial: Trial) -> None:
    assert set(trial.table.legs) == set(trial.positions)
    for place, position in enumerate(trial.positions):
        assert set(legs_of(trial, place)) == trial.table.legs[position], position


def legs_of(trial: Trial, place: int) -> Iterator[Leg]:
    """What the elaborated part joins in a position, one-way legs."""
    circuit = trial.circuit
    for passage in circuit.passages:
        if met(passage, place):
            here, there = (circuit.ports[port].label for port in passage.ports)
            what = "air" if passage.bore == "full" else "restricted"
            yield (what, here, there)
            if not passage.one_way:
                yield (what, there, here)
    for network in circuit.networks:
        for way in network.ways:
            if way.part is not None and met(way, place):
                ends = (network.places[way.start], network.places[way.end])
                here, there = (end.removeprefix("it.") for end in ends)
                yield (network.medium, here, there)
                if not way.one_way:
                    yield (network.medium, there, here)


def met(thing: Passage | Way, place: int) -> bool:
    where: tuple[Where, ...] = thing.where
    return all(place in factor.positions for factor in where)


def test_rests_where_the_table_says(trial: Trial) -> None:
    """For every combination of signals, from every position, with anything in the trapped ports."""
    if trial.positions == (ALWAYS,):
        assert not trial.table.rows
        return
    used = set()
    for signals in trial.signals():
        for origin in trial.positions:
            rows = [row for row in trial.table.rows if row.covers(origin, signals)]
            assert len(rows) == 1, (origin, signals, [row.text for row in rows])
            used.add(rows[0].text)
            rests = {trial.position(state) for state in trial.resting(origin, signals)}
            assert rests == set(rows[0].rest), (origin, signals, rows[0].text)
    assert used == {row.text for row in trial.table.rows}


def test_ports_have_air_where_the_table_says(trial: Trial) -> None:
    """In every resting position, with every combination of air at the inputs."""
    exhausts = {port.label for port in trial.circuit.ports if port.exhaust}
    inputs = trial.table.inputs
    for signals in trial.signals():
        fed = {port for port in inputs if signals[port] == "on"}
        vented = exhausts | {port for port in inputs if signals[port] == "off"}
        for origin in trial.positions:
            for state in trial.resting(origin, signals):
                legs = trial.table.legs[trial.position(state)]
                if any(what == "restricted" for what, _, _ in legs):
                    continue
                for port in trial.ports:
                    assert trial.air_at(state, port) == expected_air(legs, fed, vented, port), (
                        signals,
                        port,
                    )


@pytest.mark.parametrize("kind", ["restrictor", "one_way_flow_control_valve"])
def test_what_a_restriction_passes(kind: str) -> None:
    """Fed through a restriction alone, an outlet that nothing else drives has air (rule P3)."""
    trial = Trial(KINDS[kind], TABLE[kind])
    for signals in trial.signals():
        (state,) = {trial.states(ALWAYS, signals)[0][0]}
        way = "fed" if signals["in"] == "on" else "vented"
        assert trial.air_at(state, "out") == way


def test_words_mean_what_the_table_says(trial: Trial) -> None:
    kind = KINDS[trial.table.kind]
    assert set(trial.table.words) == {i.name for i in kind.items if isinstance(i, tree.Means)}
    for signals in trial.signals():
        for origin in trial.positions:
            for state in trial.states(origin, signals)[0]:
                for told in trial.circuit.properties:
                    wanted = trial.table.words[told.name].items()
                    expected = all(signals[name] == value for name, value in wanted)
                    condition = told.instances[0].condition
                    assert holds_every(trial.circuit, state, condition) == expected
                    assert holds_some(trial.circuit, state, condition) == expected


# ISO 11727:1999, path sets from memory: a pilot is named for the path that it makes.
@pytest.mark.parametrize(
    ("kind", "pilot", "legs"),
    [
        ("double_pilot_5_2", "14", "1-4 2-3"),
        ("double_pilot_5_2", "12", "1-2 4-5"),
        ("single_pilot_5_2", "14", "1-4 2-3"),
        ("double_pilot_5_3_closed", "14", "1-4 2-3"),
        ("double_pilot_5_3_closed", "12", "1-2 4-5"),
        ("double_pilot_5_3_exhausted", "14", "1-4 2-3"),
        ("double_pilot_5_3_exhausted", "12", "1-2 4-5"),
        ("double_pilot_5_3_pressurised", "14", "1-4 2-3"),
        ("double_pilot_5_3_pressurised", "12", "1-2 4-5"),
        ("double_pilot_5_2_closed_crossover", "14", "1-4 2-3"),
        ("double_pilot_5_2_closed_crossover", "12", "1-2 4-5"),
        ("double_pilot_5_2_open_crossover", "14", "1-4 2-3"),
        ("double_pilot_5_2_open_crossover", "12", "1-2 4-5"),
        ("push_pull_5_2", "12", "1-2 4-5"),
        ("push_pull_5_2_held_by_air", "12", "1-2 4-5"),
        ("lever_5_2_pilot_return", "12", "1-2 4-5"),
        ("single_pilot_3_2", "12", "1-2"),
        ("double_pilot_3_2", "12", "1-2"),
        ("double_pilot_3_2", "10", "2-3"),
        ("single_pilot_3_2_normally_open", "10", "2-3"),
        ("push_pull_3_2", "10", "2-3"),
        ("lever_3_2_pilot_return", "10", "2-3"),
    ],
)
def test_pilots_make_the_path_that_they_name(kind: str, pilot: str, legs: str) -> None:
    trial = Trial(KINDS[kind], TABLE[kind])
    alone = 0
    for signals in trial.signals():
        others = [v for name, v in signals.items() if name not in (pilot, "1", "hold")]
        if signals[pilot] == "on" and all(value == "off" for value in others):
            alone += 1
            for origin in trial.positions:
                for state in trial.resting(origin, signals):
                    assert set(legs_of(trial, state.positions[0])) == read_legs(legs)
    assert alone >= 2


@pytest.mark.parametrize(
    ("kind", "legs"),
    [
        ("single_pilot_3_2", "2-3"),
        ("single_pilot_3_2_normally_open", "1-2"),
        ("push_button_3_2", "2-3"),
        ("push_button_3_2_normally_open", "1-2"),
        ("solenoid_3_2", "2-3"),
        ("plunger_3_2", "2-3"),
        ("single_pilot_5_2", "1-2 4-5"),
        ("double_pilot_5_3_closed", ""),
        ("double_pilot_5_3_exhausted", "2-3 4-5"),
        ("double_pilot_5_3_pressurised", "1-2 1-4"),
    ],
)
def test_first_position_is_the_one_without_signals(kind: str, legs: str) -> None:
    """Valves are drawn, and start, as they rest without signals (ISO 1219, from memory)."""
    trial = Trial(KINDS[kind], TABLE[kind])
    assert set(legs_of(trial, trial.circuit.elements[0].start)) == read_legs(legs)
