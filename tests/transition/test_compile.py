"""Compiled circuits worked out on paper: pressures, movement, steps, questions."""

from __future__ import annotations

from itertools import product

import pytest

from tests.simulation.bench import Bench, Form, demand, high
from verifier.model.circuit import Way, Where
from verifier.model.condition import All, At, Condition, Hand, Not, Path, Setting
from verifier.model.run import State, Step
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.decode import choices_of, encode, state_of

PRESENT, ABSENT, WEAK = range(3)


def says(compiled: Compiled, state: State, literal: int) -> bool:
    latches = compiled.system.latches
    values = dict(zip((latch.node for latch in latches), encode(compiled, state), strict=True))
    return compiled.system.graph.evaluate([literal], values)[0]


def reads(compiled: Compiled, state: State, volume: int) -> str:
    air = compiled.high[volume], compiled.low[volume]
    can_high, can_low = (says(compiled, state, literal) for literal in air)
    return {(True, False): "high", (False, True): "low", (True, True): "either"}[can_high, can_low]


def following(compiled: Compiled, state: State) -> set[State]:
    """Where one step leads, over all choices."""
    system = compiled.system
    now = dict(zip((latch.node for latch in system.latches), encode(compiled, state), strict=True))
    found = set()
    for chosen in product((False, True), repeat=len(system.choices)):
        values = now | dict(zip((choice.node for choice in system.choices), chosen, strict=True))
        roots = [system.step_allowed, *(latch.next for latch in system.latches)]
        allowed, *after = system.graph.evaluate(roots, values)
        if allowed:
            found.add(state_of(compiled, after))
    return found


def test_a_pinhole_loses_against_an_exhaust_and_fills_what_is_shut() -> None:
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("line"), bench.atmosphere()
    spool = bench.element("spool", ("in", "out"))
    bench.passage(air, line, pinhole=True)
    bench.passage(line, sky, (spool, (0,)))
    compiled = compile_circuit(bench.circuit())
    assert reads(compiled, State((0,), (), (PRESENT,), (False,) * 3), line) == "low"
    assert reads(compiled, State((1,), (), (PRESENT,), (False,) * 3), line) == "high"
    assert reads(compiled, State((1,), (), (ABSENT,), (False,) * 3), line) == "low"
    assert reads(compiled, State((1,), (), (WEAK,), (False,) * 3), line) == "either"
    assert not compiled.memory_latches


def test_only_what_can_be_cut_off_has_a_memory() -> None:
    """A 3/2 valve joins its outlet to something in both positions, a 2/2 valve does not."""
    bench = Bench()
    air, sky = bench.supply("air"), bench.atmosphere()
    safe, cut, far = bench.line("safe"), bench.line("cut"), bench.line("far")
    three = bench.element("three", ("in", "out"))
    two = bench.element("two", ("in", "out"))
    bench.passage(safe, sky, (three, (0,)))
    bench.passage(air, safe, (three, (1,)))
    bench.passage(safe, cut, (two, (1,)))
    bench.passage(safe, far, one_way=True)
    compiled = compile_circuit(bench.circuit())
    assert sorted(compiled.memory_latches) == [cut, far]
    names = [compiled.system.latches[i].name for i in compiled.memory_latches.values()]
    assert names == ["cut kept air", "far kept air"]


def test_a_valve_shut_in_its_middle_cuts_off() -> None:
    bench = Bench()
    air, sky, line = bench.supply("air"), bench.atmosphere(), bench.line("line")
    closed = bench.element("closed", ("in", "middle", "out"))
    bench.passage(line, sky, (closed, (0,)))
    bench.passage(air, line, (closed, (2,)))
    assert sorted(compile_circuit(bench.circuit()).memory_latches) == [line]
    bench.passage(line, sky, (closed, (1,)))
    assert not compile_circuit(bench.circuit()).memory_latches


def test_trapped_air_stays_or_leaks_and_is_shared() -> None:
    bench = Bench()
    one, other = bench.line("one"), bench.line("other")
    bench.passage(one, other, one_way=True)
    compiled = compile_circuit(bench.circuit())
    state = State((), (), (), (True, False))
    assert [reads(compiled, state, v) for v in (one, other)] == ["either", "either"]
    assert following(compiled, state) == {
        State((), (), (), memory) for memory in product((False, True), repeat=2)
    }
    state = State((), (), (), (False, True))
    assert [reads(compiled, state, v) for v in (one, other)] == ["low", "high"]
    assert following(compiled, state) == {state, State((), (), (), (False, False))}


def test_an_element_goes_one_position_a_step_and_either_way_where_both_are_asked() -> None:
    bench = Bench()
    air = bench.supply("air", "weak")
    bench.element("spool", ("in", "middle", "out"), (2, high(air)), otherwise=0)
    bench.assume("the air stays weak", Setting(0, (WEAK,)))
    compiled = compile_circuit(bench.circuit())
    goes = {
        position: {
            after.positions[0]
            for after in following(compiled, State((position,), (), (WEAK,), (False,)))
        }
        for position in range(3)
    }
    assert goes == {0: {0, 1}, 1: {0, 1, 2}, 2: {1, 2}}
    assert [compiled.circuit.elements[0].positions[p] for p, _ in compiled.demands[0]] == [
        "in",
        "out",
    ]
    must = [
        says(compiled, State((p,), (), (WEAK,), (False,)), compiled.must_move[0]) for p in range(3)
    ]
    assert must == [False, True, False]


def test_a_hand_acts_in_the_step_and_not_at_rest() -> None:
    bench = Bench()
    pushed = bench.hand("pushed")
    bench.element("spool", ("in", "out"), (1, Hand(pushed)), otherwise=0)
    compiled = compile_circuit(bench.circuit())
    home = State((0,), (False,), (), ())
    assert says(compiled, home, compiled.at_rest)
    out = State((1,), (False,), (), ())
    assert not says(compiled, out, compiled.at_rest)
    assert following(compiled, home) == {home, out}
    chosen = choices_of(compiled, home, Step((pushed,), out))
    acts = next(
        on
        for choice, on in zip(compiled.system.choices, chosen, strict=True)
        if choice.name == "valve.pushed acts"
    )
    assert acts


def test_an_assumption_binds_before_and_after_a_step() -> None:
    bench = Bench()
    pushed, held = bench.hand("pushed"), bench.hand("held", held=True)
    bench.assume("one hand at a time", Not(All((Hand(pushed), Hand(held)))))
    bench.element("spool", ("in", "out"), (1, Hand(pushed)), otherwise=0)
    compiled = compile_circuit(bench.circuit())
    system = compiled.system
    assert [name for name, _ in system.assumptions] == ["one hand at a time"]
    free, busy = State((0,), (False, False), (), ()), State((0,), (False, True), (), ())
    # The hand that acts belongs to the state before the step: held may follow, pushed may not.
    assert State((1,), (False, True), (), ()) in following(compiled, free)
    assert State((1,), (False, True), (), ()) not in following(compiled, busy)


def fighting() -> tuple[Bench, int, int]:
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("line"), bench.atmosphere()
    spool = bench.element("spool", ("in", "out"))
    bench.passage(air, line)
    bench.passage(line, sky, (spool, (1,)), pinhole=False)
    return bench, line, spool


def test_supply_and_exhaust_that_fight_are_a_contest_unless_the_supply_is_weak() -> None:
    bench, _, _ = fighting()
    compiled = compile_circuit(bench.circuit())
    found = {
        (position, setting): says(
            compiled, State((position,), (), (setting,), (False,) * 3), compiled.contest.bad
        )
        for position in range(2)
        for setting in (PRESENT, ABSENT, WEAK)
    }
    assert [at for at, fights in found.items() if fights] == [(1, PRESENT)]


def test_pinhole_against_pinhole_is_a_contest() -> None:
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("line"), bench.atmosphere()
    far = bench.line("far")
    bench.passage(air, line, pinhole=True)
    bench.passage(line, far)
    bench.passage(far, sky, pinhole=True)
    compiled = compile_circuit(bench.circuit())
    assert says(compiled, State((), (), (PRESENT,), (False,) * 4), compiled.contest.bad)
    assert not says(compiled, State((), (), (ABSENT,), (False,) * 4), compiled.contest.bad)


@pytest.mark.parametrize(
    ("form", "wanted"), [("never", True), ("always", True), ("possible", False)]
)
def test_a_reading_that_breaks_is_enough_and_a_witness_needs_all(form: Form, wanted: bool) -> None:
    bench, line, _ = fighting()
    condition: Condition = high(line, "line line")
    compiled = compile_circuit(bench.circuit(demand(form, condition, triggers=(condition,))))
    question, trigger = compiled.asked(0, 0)
    state = State((1,), (), (PRESENT,), (False,) * 3)
    assert says(compiled, state, question.goal.bad) == wanted
    assert (trigger.role, says(compiled, state, trigger.goal.bad)) == ("trigger", False)


def test_a_property_at_rest_does_not_look_at_what_moves() -> None:
    bench = Bench()
    spool = bench.element("spool", ("in", "out"), otherwise=0, begins=1)
    out = At(spool, (1,))
    circuit = bench.circuit(demand("never", out, "at_rest"), demand("never", out, "every_moment"))
    compiled = compile_circuit(circuit)
    state = State((1,), (), (), ())
    found = [says(compiled, state, question.goal.bad) for question in compiled.questions]
    assert found == [False, True]


def test_order_wants_the_other_first_and_still() -> None:
    """The observer over all sequences of four moments, against the sentence itself."""
    bench = Bench()
    then, first = (bench.hand(name, held=True) for name in ("then", "first"))
    circuit = bench.circuit(demand("order", Hand(then), first=Hand(first)))
    compiled = compile_circuit(circuit)
    system = compiled.system
    (bad,) = (question.goal.bad for question in compiled.questions)
    observer = system.latches[-1]
    nodes = [system.latches[compiled.hand_latches[hand]].node for hand in (then, first)]
    for moments in product(product((False, True), repeat=2), repeat=4):
        ready = observer.start
        for now in range(4):
            values = {**dict(zip(nodes, moments[now], strict=True)), observer.node: ready}
            broken, ready = system.graph.evaluate([bad, observer.next], values)
            assert broken == out_of_order(moments[: now + 1])


def out_of_order(moments: tuple[tuple[bool, ...], ...]) -> bool:
    """It happens now; `first` has not been true from some moment before it began to happen on."""
    if not moments[-1][0]:
        return False
    began = len(moments) - 1
    while began > 0 and moments[began - 1][0]:
        began -= 1
    # It must have been true in the last moment before, and in all moments since.
    return not (began > 0 and all(first for _, first in moments[began - 1 :]))


def test_liquid_flows_along_open_legs_in_their_direction() -> None:
    bench = Bench()
    bench.places = ("tank", "pipe", "coupling")
    valve = bench.element("valve", ("shut", "open"))
    bench.ways += (
        Way(0, 0, 1, False, (Where(valve, (1,)),)),
        Way(None, 1, 2, True, ()),
    )
    pairs = ((0, 2, True), (2, 0, True), (2, 0, False), (1, 2, True))
    circuit = bench.circuit(*(demand("never", Path(0, *pair)) for pair in pairs))
    compiled = compile_circuit(circuit)
    found = [
        [says(compiled, State((p,), (), (), ()), q.goal.bad) for q in compiled.questions]
        for p in range(2)
    ]
    assert found == [[False, False, False, True], [True, False, True, True]]


def test_a_path_within_one_place_is_always_open() -> None:
    bench = Bench()
    bench.places = ("tank", "coupling")
    circuit = bench.circuit(
        demand("never", Path(0, 0, 0, True)), demand("never", Path(0, 0, 1, True))
    )
    goals = [question.goal.bad for question in compile_circuit(circuit).questions]
    assert goals == [1, 0]


def test_what_can_be_told_of_a_state_has_a_name() -> None:
    bench = Bench()
    air = bench.supply("air")
    out = bench.line("out")
    valve = bench.element("valve", ("shut", "open"))
    bench.passage(air, out, (valve, (1,)))
    compiled = compile_circuit(bench.circuit())
    literals = {one.name: one.literal for one in compiled.system.definitions}
    wanted = {"valve.valve must move": compiled.must_move[valve]}
    wanted |= {
        f"valve.valve is sent to {('shut', 'open')[position]}": literal
        for position, literal in compiled.demands[valve]
    }
    for volume, name in ((air, "air"), (out, "out")):
        wanted[f"{name} is fed"] = compiled.pressures.fed[volume]
        wanted[f"{name} is vented"] = compiled.pressures.vented[volume]
        wanted[f"{name} is trapped"] = compiled.trapped[volume]
        wanted[f"{name} can be high"] = compiled.high[volume]
        wanted[f"{name} can be low"] = compiled.low[volume]
    assert literals == wanted
