"""Conditions and demands worked out on paper (rules M1 to M3, M6, P5)."""

from __future__ import annotations

import msgspec

from tests.simulation.bench import Bench, high, keeping
from verifier.model.circuit import Circuit, Way, Where
from verifier.model.condition import All, Always, Any, At, AtRest, Hand, Not, Path, Setting
from verifier.model.run import State
from verifier.simulation.movement import (
    at_rest,
    demanded,
    holds_every,
    holds_some,
    must_move,
    next_positions,
)
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import start


def demands(circuit: Circuit, state: State, acting: tuple[int, ...] = ()) -> tuple[int, ...]:
    return demanded(circuit, state, pressures(circuit, state), 0, acting)


def test_the_first_move_that_is_met_wins_and_else_the_spring() -> None:
    bench = Bench()
    air = bench.supply("air")
    pulled = bench.hand("pulled")
    bench.element("spool", ("in", "out"), (0, high(air)), (1, Hand(pulled)), otherwise=0)
    circuit = bench.circuit()
    with_air = start(circuit)
    without = msgspec.structs.replace(with_air, settings=(1,))
    assert demands(circuit, with_air, (pulled,)) == (0,)
    assert demands(circuit, without, (pulled,)) == (1,)
    assert demands(circuit, without) == (0,)


def test_a_detent_demands_the_position_it_has() -> None:
    bench = Bench()
    line = bench.line("a")
    bench.element("spool", ("in", "out"), (1, high(line)), begins=1)
    circuit = bench.circuit()
    assert demands(circuit, start(circuit)) == (1,)
    assert at_rest(circuit, start(circuit))


def test_a_contested_pilot_may_be_read_either_way_and_nothing_must_move() -> None:
    bench = Bench()
    air = bench.supply("air", "weak")
    bench.element("spool", ("in", "out"), (1, high(air)), otherwise=0)
    circuit = bench.circuit()
    for position in (0, 1):
        state = msgspec.structs.replace(start(circuit), positions=(position,))
        assert demands(circuit, state) == (0, 1)
        assert not must_move(circuit, state, 0)
        assert at_rest(circuit, state)


def test_one_reader_reads_a_volume_once_and_two_readers_may_differ() -> None:
    def spool(first: str, second: str) -> Circuit:
        bench = Bench()
        air = bench.supply("air", "weak")
        differing = All((high(air, first), Not(high(air, second))))
        bench.element("spool", ("in", "out"), (1, differing), otherwise=0)
        return bench.circuit()

    alone, apart = spool("valve.12", "valve.12"), spool("valve.12", "valve.14")
    assert demands(alone, start(alone)) == (0,)
    assert demands(apart, start(apart)) == (0, 1)


def test_one_reading_serves_all_moves_of_an_element() -> None:
    """Neither high nor not high is no reading, so `otherwise` is never demanded."""
    bench = Bench()
    air = bench.supply("air", "weak")
    bench.element(
        "spool", ("left", "middle", "right"), (0, high(air)), (2, Not(high(air))), otherwise=1
    )
    circuit = bench.circuit()
    assert demands(circuit, start(circuit)) == (0, 2)


def test_three_positions_are_passed_one_by_one_and_to_either_side() -> None:
    bench = Bench()
    air = bench.supply("air", "weak")
    bench.element("spool", ("left", "middle", "right"), (0, high(air)), otherwise=2)
    circuit = bench.circuit()
    air_now = pressures(circuit, start(circuit))
    reached = {
        position: next_positions(circuit, State((position,), (), (2,), (False,)), air_now, 0, ())
        for position in range(3)
    }
    assert reached == {0: (0, 1), 1: (1, 0, 2), 2: (2, 1)}
    middle = State((1,), (), (2,), (False,))
    assert must_move(circuit, middle, 0)


def test_a_momentary_hand_counts_only_when_it_acts_and_a_held_one_when_it_is_on() -> None:
    bench = Bench()
    pushed, held = bench.hand("pushed"), bench.hand("held", held=True)
    bench.element("spool", ("in", "middle", "out"), (1, Hand(pushed)), (2, Hand(held)))
    circuit = bench.circuit()
    begin = start(circuit)
    kept_on = msgspec.structs.replace(begin, hands=(False, True))
    assert demands(circuit, begin) == (0,)
    assert demands(circuit, begin, (pushed,)) == (1,)
    assert demands(circuit, kept_on) == (2,)
    # Rest is judged with no momentary hand acting, unless a procedure works one.
    assert at_rest(circuit, begin)
    assert not at_rest(circuit, begin, (pushed,))


def test_conditions_speak_of_cams_settings_paths_and_rest() -> None:
    bench = Bench()
    door = bench.switch("door", "open", "shut")
    foot = bench.element("foot", ("shut", "open"), (1, Setting(door, (1,))), otherwise=0)
    bench.element("cam", ("up", "down"), (1, At(foot, (1,))), otherwise=0)
    bench.places = ("tank", "header", "coupling")
    bench.ways = [
        Way(None, 0, 1, False, (Where(foot, (1,)),)),
        Way(None, 1, 2, True, ()),
    ]
    circuit = bench.circuit()
    shut = start(circuit)
    opened = State((1, 0), (), (1,), ())
    down, back = Path(0, 0, 2, True), Path(0, 2, 0, True)
    joined = Path(0, 2, 0, False)
    truths = {
        name: (holds_some(circuit, shut, condition), holds_some(circuit, opened, condition))
        for name, condition in {
            "flow down": down,
            "flow back": back,
            "joined": joined,
            "joined to itself": Path(0, 1, 1, True),
            "door": Setting(door, (1,)),
            "rest": AtRest(),
            "either": Any((Always(False), At(foot, (1,)))),
            "nothing": Any(()),
        }.items()
    }
    assert truths == {
        "flow down": (False, True),
        "flow back": (False, False),
        "joined": (False, True),
        "joined to itself": (True, True),
        "door": (False, True),
        "rest": (True, False),
        "either": (False, True),
        "nothing": (False, False),
    }


def test_in_between_pressure_holds_some_but_not_every_reading() -> None:
    bench = Bench()
    a, b = bench.line("a"), bench.line("b")
    bench.passage(a, b)
    circuit = bench.circuit()
    state = keeping(circuit, a)
    one, other = high(a, "line a"), high(b, "line b")
    assert holds_some(circuit, state, one)
    assert not holds_every(circuit, state, one)
    assert holds_some(circuit, state, All((one, Not(other))))
    assert holds_every(circuit, state, Any((one, Not(one))))
    assert not holds_some(circuit, state, All((one, Not(one))))
