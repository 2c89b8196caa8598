"""A run is believed step by step; each kind of lie is told by the rule that it breaks."""

from __future__ import annotations

import msgspec
import pytest

from tests.simulation.bench import Bench, demand, high
from verifier.model.circuit import Circuit, Setpoint
from verifier.model.condition import Always, At, Hand, Not
from verifier.model.run import Run, State, Step
from verifier.simulation.judging import violation
from verifier.simulation.replay import Checked, ReplayError, replay


def circuit_with() -> Circuit:
    """A spool with a push and a pilot on the supply, and a line on its own. State: spool; push,
    held; supply; supply line, lone line."""
    bench = Bench()
    air = bench.supply("air")
    bench.line("lone")
    pushed = bench.hand("pushed")
    bench.hand("held", held=True)
    bench.element(
        "spool", ("in", "middle", "out"), (2, Hand(pushed)), (0, high(air)), otherwise=None
    )
    bench.assume("never weak", Not(Always(False)))
    return bench.circuit()


START = State((0,), (False, False), (0,), (False, False))


def altered(**fields: object) -> State:
    return msgspec.structs.replace(START, **fields)


def test_a_true_run_replays() -> None:
    steps = (
        Step((0,), altered(positions=(1,))),
        Step((0,), altered(positions=(2,), hands=(False, True))),
        Step((), altered(positions=(2,), settings=(1,))),
    )
    replay(circuit_with(), Run(START, steps))


@pytest.mark.parametrize(
    ("start", "step", "at", "rule"),
    [
        (altered(positions=(1,)), Step((), START), 0, "O4"),
        (altered(memory=(False, True)), Step((), START), 0, "O4"),
        (START, Step((0,), altered(positions=(2,))), 1, "M3"),
        (START, Step((), altered(positions=(1,))), 1, "M3"),
        (START, Step((), altered(positions=(3,))), 1, "M1"),
        (START, Step((), altered(positions=(-1,))), 1, "M1"),
        (START, Step((), altered(settings=(3,))), 1, "O2"),
        (START, Step((), altered(hands=(True, False))), 1, "O1"),
        (START, Step((1,), START), 1, "O1"),
        (START, Step((0, 0), START), 1, "O1"),
        (START, Step((2,), START), 1, "O1"),
        (START, Step((-1,), START), 1, "O1"),
        (START, Step((), altered(memory=(True, False))), 1, "P4"),
        (START, Step((), altered(memory=(False, True))), 1, "P4"),
        (START, Step((), altered(memory=(False,))), 1, "state"),
        (START, Step((), altered(positions=())), 1, "state"),
    ],
)
def test_lies_are_caught(start: State, step: Step, at: int, rule: str) -> None:
    with pytest.raises(ReplayError) as caught:
        replay(circuit_with(), Run(start, (step,)))
    assert (caught.value.step, caught.value.rule) == (at, rule)
    assert caught.value.words in str(caught.value)


def test_air_cannot_vanish_the_moment_a_line_is_cut_off() -> None:
    bench = Bench()
    air, line = bench.supply("air"), bench.line("lift")
    spool = bench.element("spool", ("open", "shut"), (1, Always(True)))
    bench.passage(air, line, (spool, (0,)))
    begin = State((0,), (), (0,), (False, False))
    empty = Run(begin, (Step((), State((1,), (), (0,), (False, False))),))
    with pytest.raises(ReplayError, match="lift lost its air the moment it was cut off"):
        replay(bench.circuit(), empty)
    kept = State((1,), (), (0,), (False, True))
    leaks = State((1,), (), (0,), (False, False))
    replay(bench.circuit(), Run(begin, (Step((), kept), Step((), leaks))))
    gain = Run(begin, (Step((), kept), Step((), leaks), Step((), kept)))
    with pytest.raises(ReplayError, match="step 3: lift keeps air that it did not have"):
        replay(bench.circuit(), gain)


def test_a_run_that_shows_nothing_is_no_violation() -> None:
    circuit = circuit_with()
    moved = Run(START, (Step((0,), altered(positions=(1,))),))
    never = demand("never", At(0, (1,)))
    assert violation(circuit, never, never.instances[0], moved)
    assert not violation(circuit, never, never.instances[0], Run(START, ()))
    # In the middle with air on its pilot the spool must move: not a moment at rest.
    resting = demand("never", At(0, (1,)), "at_rest")
    assert not violation(circuit, resting, resting.instances[0], moved)


def test_a_procedure_is_followed_to_the_letter() -> None:
    """Push (momentary) and wait; then nothing acts, and the pilot brings the spool back in."""
    circuit = circuit_with()
    out = demand("recovers", At(0, (2,)), "at_rest", procedure=(Setpoint(0, None, 1, "push"),))
    middle, end = altered(positions=(1,)), altered(positions=(2,))
    pushing = (Step((0,), middle), Step((0,), end))
    returning = (Step((), middle), Step((), START))

    def fails(steps: tuple[Step, ...], begin: int | None = 0) -> bool:
        replay(circuit, Run(START, steps))
        return violation(circuit, out, out.instances[0], Run(START, steps, begin))

    assert fails(pushing + returning)
    assert not fails(pushing + returning, begin=None)
    assert not fails(pushing + returning, begin=5)
    # A push that went before may as well be the operator's own; without one it is no procedure.
    assert fails(pushing + returning, begin=1)
    assert fails(pushing + returning, begin=2)
    assert not fails(pushing + returning, begin=3)
    # The procedure is not over, lets go too early, or lets something else happen.
    assert not fails(pushing)
    assert not fails((*pushing[:1], Step((), START)))
    meddled = altered(positions=(1,), hands=(False, True))
    assert not fails((*pushing, Step((), meddled), Step((), altered(hands=(False, True)))))


def test_steps_that_were_checked_are_not_checked_again_and_others_are(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    circuit = circuit_with()
    checked: Checked = {}
    step = Step((0,), altered(positions=(1,)))
    run = Run(START, (step, Step((), step.state)))
    replay(circuit, run, checked)
    assert len(checked) == len(run.steps)

    def never(*_: object) -> tuple[()]:
        raise AssertionError("checked again")

    monkeypatch.setattr("verifier.simulation.replay.check_step", never)
    replay(circuit, run, checked)
    alike = Run(run.start, (msgspec.structs.replace(run.steps[0]), *run.steps[1:]))
    with pytest.raises(AssertionError, match="checked again"):
        replay(circuit, alike, checked)
