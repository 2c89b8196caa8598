"""Procedures worked out on paper, and the runs that engines would claim."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import pytest

from tests.simulation.bench import Bench, demand, high
from verifier.model.circuit import Circuit, Setpoint
from verifier.model.condition import At, Hand, Not
from verifier.model.run import Run
from verifier.simulation.judging import violation
from verifier.simulation.replay import replay
from verifier.transition.compile import compile_circuit
from verifier.transition.recovery import Recovery, recovery, run_of
from verifier.transition.system import Reached, System

Bits = tuple[bool, ...]


def step(system: System, state: Bits, chosen: Sequence[bool]) -> Bits | None:
    values = dict(zip((latch.node for latch in system.latches), state, strict=True))
    values |= dict(zip((choice.node for choice in system.choices), chosen, strict=True))
    roots = [system.step_allowed, *(latch.next for latch in system.latches)]
    allowed, *after = system.graph.evaluate(roots, values)
    return tuple(after) if allowed else None


def search(found: Recovery) -> Reached | None:
    """Every state of a small system, breadth first, over all choices."""
    system = found.system
    begin = tuple(latch.start for latch in system.latches)
    came: dict[Bits, tuple[Bits, Bits] | None] = {begin: None}
    queue = [begin]
    for state in queue:
        values = dict(zip((latch.node for latch in system.latches), state, strict=True))
        if system.graph.evaluate([found.goal.bad], values)[0]:
            return traced(found, came, state)
        for chosen in product((False, True), repeat=len(system.choices)):
            after = step(system, state, chosen)
            if after is not None and after not in came:
                came[after] = (state, chosen)
                queue.append(after)
    return None


def traced(found: Recovery, came: dict[Bits, tuple[Bits, Bits] | None], state: Bits) -> Reached:
    states, choices = [state], []
    while (before := came[states[0]]) is not None:
        states.insert(0, before[0])
        choices.insert(0, before[1])
    return Reached(found.goal.name, tuple(states), tuple(choices), True, "by hand")


def decided(circuit: Circuit) -> Run | None:
    """A run that fails to recover, replayed and judged by the simulator; None if there is none."""
    found = recovery(compile_circuit(circuit), 0, 0)
    reached = search(found)
    if reached is None:
        return None
    run = run_of(found, reached)
    replay(circuit, run)
    item = circuit.properties[0]
    assert violation(circuit, item, item.instances[0], run)
    return run


def valve(spring: bool, procedure: tuple[Setpoint, ...], held: bool = False) -> Circuit:
    """A knob pulled out by one hand and pushed in by another, which is the one to act."""
    bench = Bench()
    pulled, pushed = bench.hand("pulled"), bench.hand("pushed", held)
    spool = bench.element(
        "spool",
        ("in", "out"),
        (0, Hand(pushed)),
        (1, Hand(pulled)),
        otherwise=0 if spring else None,
    )
    return bench.circuit(demand("recovers", At(spool, (0,)), "at_rest", procedure=procedure))


def push(hand: int = 1, value: int = 1) -> Setpoint:
    return Setpoint(hand, None, value, "push it in")


def test_pushing_in_brings_the_knob_home() -> None:
    assert decided(valve(False, (push(),))) is None


def test_a_knob_with_a_detent_stays_out_when_nobody_pushes() -> None:
    run = decided(valve(False, (Setpoint(1, None, 0, "let go"),)))
    assert run is not None
    assert run.procedure_from == len(run.steps) == 1
    assert run.steps[0].acting == (0,)


def test_a_spring_brings_the_knob_home_when_nobody_does_anything() -> None:
    assert decided(valve(True, (Setpoint(1, None, 0, "let go"),))) is None


def test_a_held_hand_is_put_and_left() -> None:
    assert decided(valve(False, (push(),), held=True)) is None
    assert decided(valve(False, (push(), push(value=0)), held=True)) is None
    run = decided(valve(False, (push(value=0),), held=True))
    assert run is not None
    assert run.states[-1].positions == (1,)


def test_the_last_of_several_actions_decides() -> None:
    pull = Setpoint(0, None, 1, "pull it out")
    assert decided(valve(False, (pull, push()))) is None
    run = decided(valve(False, (push(), pull)))
    assert run is not None
    assert run.procedure_from is not None
    assert [one.acting for one in run.steps[run.procedure_from :]][-1] == (0,)


def test_a_phase_waits_for_rest_with_its_own_hand_acting() -> None:
    """Air is sent first, which takes two steps; the condition asks about its end only."""
    bench = Bench()
    air, line = bench.supply("air", "absent"), bench.line("line")
    gate = bench.element("gate", ("shut", "open"), (1, high(air)), otherwise=0)
    spool = bench.element("spool", ("in", "out"), (1, high(line)))
    bench.passage(air, line, (gate, (1,)))
    send = Setpoint(None, 0, 0, "send air")
    drawn = demand("recovers", At(spool, (1,)), "at_rest", procedure=(send,))
    assert decided(bench.circuit(drawn)) is None
    other = demand("recovers", Not(At(gate, (1,))), "at_rest", procedure=(send,))
    run = decided(bench.circuit(other))
    assert run is not None
    assert run.states[-1].positions == (1, 1)


def test_an_action_that_an_assumption_excludes_is_never_done() -> None:
    bench = Bench()
    pulled = bench.hand("pulled")
    spool = bench.element("spool", ("in", "out"), (1, Hand(pulled)))
    bench.assume("nobody pulls", Not(Hand(pulled)))
    pull = Setpoint(pulled, None, 1, "pull it out")
    asked = demand("recovers", At(spool, (0,)), "at_rest", procedure=(pull,))
    assert decided(bench.circuit(asked)) is None


def test_other_properties_have_no_procedure() -> None:
    bench = Bench()
    spool = bench.element("spool", ("in", "out"))
    compiled = compile_circuit(bench.circuit(demand("never", At(spool, (1,)))))
    with pytest.raises(ValueError, match="no procedure"):
        recovery(compiled, 0, 0)


def test_a_recovery_leaves_the_circuit_s_own_system_alone() -> None:
    compiled = compile_circuit(valve(False, (push(),)))
    before = compiled.system.graph.fanins.copy()
    first, second = (recovery(compiled, 0, 0) for _ in range(2))
    assert compiled.system.graph.fanins == before
    assert first.system.graph.fanins == second.system.graph.fanins
    assert (first.goal, first.system.latches) == (second.goal, second.system.latches)
