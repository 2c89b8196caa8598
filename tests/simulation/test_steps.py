"""Steps worked out on paper (rules M3 to M5, P4, P5, O1 to O4)."""

from __future__ import annotations

import msgspec

from tests.simulation.bench import Bench, high, keeping
from verifier.model.circuit import Circuit
from verifier.model.condition import All, Always, Hand, Not, Setting
from verifier.model.run import State, Step
from verifier.simulation.checking import check_step
from verifier.simulation.steps import canonical, cost, leaked, start, successors


def after(circuit: Circuit, state: State) -> set[State]:
    return {step.state for step in successors(circuit, state)}


def positions_after(circuit: Circuit, state: State) -> set[tuple[int, ...]]:
    """Positions that one step leads to while hands and surroundings are still."""
    return {
        step.state.positions
        for step in successors(circuit, state)
        if (step.state.hands, step.state.settings) == (state.hands, state.settings)
        and not step.acting
    }


def test_the_start_is_as_the_design_says() -> None:
    bench = Bench()
    bench.supply("air", "absent")
    bench.hand("held", held=True)
    bench.element("spool", ("in", "out"), begins=1)
    begin = start(bench.circuit())
    assert begin == State((1,), (False,), (1,), (False,))


def test_standing_still_is_always_possible() -> None:
    bench = Bench()
    bench.element("spool", ("in", "out"), (1, Always(True)))
    circuit = bench.circuit()
    assert start(circuit) in after(circuit, start(circuit))


def test_any_set_of_elements_moves_in_the_same_step() -> None:
    bench = Bench()
    for name in ("a", "b"):
        bench.element(name, ("in", "out"), (1, Always(True)))
    circuit = bench.circuit()
    assert positions_after(circuit, start(circuit)) == {(0, 0), (0, 1), (1, 0), (1, 1)}


def test_a_move_answers_to_the_state_before_the_step() -> None:
    """A spool that loses its demand in the very step in which the air fails may still move in that
    step, and not in the next one (inertia)."""
    bench = Bench()
    air = bench.supply("air")
    bench.element("spool", ("in", "out"), (1, high(air)), otherwise=0)
    circuit = bench.circuit()
    with_air = start(circuit)
    failing = {s for s in after(circuit, with_air) if s.settings == (1,)}
    assert {s.positions for s in failing} == {(0,), (1,)}
    failed = State((0,), (), (1,), (False,))
    assert {s.positions for s in after(circuit, failed)} == {(0,)}


def test_a_spool_in_mid_travel_turns_back_when_its_demand_goes_away() -> None:
    bench = Bench()
    pushed = bench.hand("pushed", held=True)
    bench.element("spool", ("in", "middle", "out"), (2, Hand(pushed)), otherwise=0)
    circuit = bench.circuit()
    middle = State((1,), (False,), (), ())
    assert positions_after(circuit, middle) == {(1,), (0,)}


def test_a_momentary_hand_moves_within_its_step_and_a_held_one_from_the_next() -> None:
    bench = Bench()
    momentary = bench.hand("pulled")
    held = bench.hand("pushed", held=True)
    bench.element("a", ("in", "out"), (1, Hand(momentary)))
    bench.element("b", ("in", "out"), (1, Hand(held)), otherwise=0)
    circuit = bench.circuit()
    found = {
        (step.acting, step.state.hands, step.state.positions)
        for step in successors(circuit, start(circuit))
    }
    assert found == {
        ((), (False, False), (0, 0)),
        ((), (False, True), (0, 0)),
        ((0,), (False, False), (0, 0)),
        ((0,), (False, False), (1, 0)),
        ((0,), (False, True), (0, 0)),
        ((0,), (False, True), (1, 0)),
    }


def test_trapped_air_stays_or_leaks_and_does_not_come_back() -> None:
    bench = Bench()
    line = bench.line("a")
    circuit = bench.circuit()
    full, empty = keeping(circuit, line), start(circuit)
    assert after(circuit, full) == {full, empty}
    assert after(circuit, empty) == {empty}
    assert leaked(circuit, full, empty) == (line,)
    assert cost(circuit, full, Step((), empty)) == (0, 0, 1)


def test_a_line_that_is_cut_off_keeps_its_air_at_first() -> None:
    bench = Bench()
    air, line = bench.supply("air"), bench.line("a")
    spool = bench.element("spool", ("open", "shut"), (1, Always(True)))
    bench.passage(air, line, (spool, (0,)))
    circuit = bench.circuit()
    shut = [s for s in after(circuit, start(circuit)) if s.positions == (1,) and s.settings == (0,)]
    assert shut == [State((1,), (), (0,), (False, True))]


def test_a_contested_line_that_is_cut_off_keeps_either() -> None:
    bench = Bench()
    air, line = bench.supply("air", "weak"), bench.line("a")
    spool = bench.element("spool", ("open", "shut"), (1, Always(True)))
    bench.passage(air, line, (spool, (0,)))
    circuit = bench.circuit()
    shut = {s.memory for s in after(circuit, start(circuit)) if s.positions == (1,)}
    assert shut == {(False, False), (False, True)}


def test_passing_an_open_middle_empties_a_trapped_line() -> None:
    """Spool left, middle, right: only the middle exhausts. The line is cut off on both sides, so
    after the passage it has no air whatever it had before."""
    bench = Bench()
    line, sky = bench.line("a"), bench.atmosphere()
    spool = bench.element("spool", ("left", "middle", "right"), (2, Always(True)))
    bench.passage(line, sky, (spool, (1,)))
    circuit = bench.circuit()
    begin = keeping(circuit, line)
    middle = {s for s in after(circuit, begin) if s.positions == (1,)}
    assert middle == {State((1,), (), (), (False, False))}
    right = {s for s in after(circuit, *middle) if s.positions == (2,)}
    assert right == {State((2,), (), (), (False, False))}
    in_one_go = Step((), State((2,), (), (), (True, False)))
    assert [breach.rule for breach in check_step(circuit, begin, in_one_go)] == ["M3"]


def test_memory_counts_only_where_something_is_trapped() -> None:
    bench = Bench()
    air, line = bench.supply("air"), bench.line("a")
    circuit = bench.circuit()
    assert canonical(circuit, keeping(circuit, air, line)) == keeping(circuit, line)


def test_assumptions_narrow_hands_and_surroundings() -> None:
    bench = Bench()
    bench.supply("air")
    pushed = bench.hand("pushed")
    bench.hand("held", held=True)
    bench.assume("air never fails", Setting(0, (0,)))
    bench.assume("nobody pushes", Not(Hand(pushed)))
    circuit = bench.circuit()
    steps = list(successors(circuit, start(circuit)))
    assert [(step.acting, step.state.hands) for step in steps] == [
        ((), (False, False)),
        ((), (False, True)),
    ]
    begin = start(circuit)
    fails = Step((), msgspec.structs.replace(begin, settings=(1,)))
    pushes = Step((pushed,), begin)
    told = [check_step(circuit, begin, step)[0] for step in (fails, pushes)]
    assert [breach.rule for breach in told] == ["O3", "O3"]
    assert "air never fails" in told[0].words
    assert "nobody pushes" in told[1].words


def test_an_assumption_about_a_momentary_hand_looks_at_what_is_held() -> None:
    bench = Bench()
    pushed, held = bench.hand("pushed"), bench.hand("held", held=True)
    bench.assume("one hand at a time", Not(All((Hand(pushed), Hand(held)))))
    circuit = bench.circuit()
    free, busy = start(circuit), State((), (False, True), (), ())
    assert {step.acting for step in successors(circuit, free)} == {(), (pushed,)}
    assert {step.acting for step in successors(circuit, busy)} == {()}


def test_events_and_motions_are_counted() -> None:
    bench = Bench()
    bench.supply("air")
    pulled = bench.hand("pulled")
    bench.hand("held", held=True)
    bench.element("a", ("in", "out"), (1, Hand(pulled)))
    circuit = bench.circuit()
    step = Step((pulled,), State((1,), (False, True), (1,), (False,)))
    assert not check_step(circuit, start(circuit), step)
    assert cost(circuit, start(circuit), step) == (3, 1, 1)
