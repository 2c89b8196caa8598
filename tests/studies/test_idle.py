"""Idle events: what a run does not need is taken out, and only that."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from verifier.model.circuit import Circuit
from verifier.model.load import load_text
from verifier.model.run import Run
from verifier.simulation.events import changes_of
from verifier.simulation.judging import violation
from verifier.simulation.replay import replay
from verifier.simulation.steps import start, successors
from verifier.studies.idle import without_idle_events

TWO_FEET = """
design two_feet "Two foot valves, each with its own selector"
use standard
supply tractor
part pick[1..2] : push_pull_3_2
part foot[1..2] : foot_valve
line air : tractor, pick[1..2].1
line lift[i in 1..2] : pick[i].2, foot[i].pilot
plug pick[1..2].10
place tank[1..2], coupling
liquid tank[i in 1..2] - foot[i] - coupling
never "the first compartment flows": flow(tank[1], coupling)
"""


@pytest.fixture(scope="module")
def circuit() -> Circuit:
    return load_text(TWO_FEET).circuit


def ends_wrong(circuit: Circuit, run: Run) -> bool:
    item = circuit.properties[0]
    return violation(circuit, item, item.instances[0], run)


def wander(circuit: Circuit, choices: list[int]) -> Run:
    """Any run at all: each number picks one of the steps that are allowed."""
    run = Run(start(circuit), ())
    for choice in choices:
        steps = list(successors(circuit, run.states[-1]))
        run = Run(run.start, (*run.steps, steps[choice % len(steps)]))
    return run


@settings(max_examples=25)
@given(choices=st.lists(st.integers(0, 10_000), min_size=25, max_size=25))
def test_what_is_left_is_needed(circuit: Circuit, choices: list[int]) -> None:
    """Any walk, cut where it first goes wrong: the rest still goes wrong, and is the known best."""
    walk = wander(circuit, choices)
    for length in range(len(walk.steps) + 1):
        run = Run(walk.start, walk.steps[:length])
        if ends_wrong(circuit, run):
            event("it goes wrong")
            kept = without_idle_events(circuit, run, lambda r: ends_wrong(circuit, r))
            replay(circuit, kept)
            assert ends_wrong(circuit, kept)
            kinds = sorted(change.kind for change in changes_of(circuit, kept))
            assert kinds == ["act", "move", "move", "switch"], "air, pull, spool, foot valve"
            assert len(kept.steps) <= len(run.steps)


def test_a_run_that_needs_everything_is_left_alone(circuit: Circuit) -> None:
    from verifier.simulation.explore import Exploration

    item = circuit.properties[0]
    answer = Exploration(circuit).answer(item, item.instances[0])
    assert answer.run is not None
    kept = without_idle_events(circuit, answer.run, lambda run: ends_wrong(circuit, run))
    assert msgspec.structs.asdict(kept) == msgspec.structs.asdict(answer.run)
