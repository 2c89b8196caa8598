"""Two runs that are said to part are believed only if they differ in nothing but order."""

from __future__ import annotations

from functools import cache

import pytest
from msgspec import structs

from tests.outside.outcomes import circuit_named
from verifier.evidence.error import EvidenceError
from verifier.evidence.parting import believe_parting, pair_of
from verifier.model.circuit import Circuit
from verifier.model.run import Parting, Run, Step
from verifier.simulation.explore import Exploration
from verifier.simulation.movement import at_rest
from verifier.simulation.rest import still_steps

NAME = "nor_latch"


@cache
def latch() -> tuple[Circuit, Parting]:
    """The race of a NOR latch: both inputs go, either gate may be first."""
    circuit = circuit_named(NAME)
    exploration = Exploration(circuit)
    both = next(
        s for s in exploration.resting_states() if s.settings == (1, 1) and s.positions == (0, 0)
    )
    run = exploration.run_to(both)
    let_go = structs.replace(both, settings=(0, 0))
    base = Run(run.start, (*run.steps, Step((), let_go)))
    ends = [there for there in still_steps(circuit, let_go) if at_rest(circuit, there)]
    assert sorted(end.positions for end in ends) == [(0, 1), (1, 0)]
    first, second = (Run(base.start, (*base.steps, Step((), end))) for end in ends)
    return circuit, pair_of(first, second)


def test_a_race_is_believed() -> None:
    circuit, parting = latch()
    assert parting.shared == len(parting.first.steps) - 1
    believe_parting(circuit, parting, 0)
    believe_parting(circuit, parting, 1)


def refused(parting: Parting, element: int, words: str) -> None:
    with pytest.raises(EvidenceError, match=words):
        believe_parting(latch()[0], parting, element)


def test_runs_must_be_of_the_circuit() -> None:
    _, parting = latch()
    jump = structs.replace(parting.first.steps[-1].state, positions=(1, 1), settings=(1, 1))
    run = Run(parting.first.start, (*parting.first.steps, Step((), jump)))
    refused(pair_of(run, parting.second), 0, "does not replay")


def test_runs_must_not_differ_in_events() -> None:
    _, parting = latch()
    calm = Run(parting.first.start, ())
    refused(pair_of(calm, parting.first), 0, "hands or surroundings")


def test_runs_must_share_what_they_are_said_to() -> None:
    _, parting = latch()
    more = structs.replace(parting, shared=parting.shared + 1)
    refused(more, 0, "do not begin alike")
    refused(structs.replace(parting, shared=99), 0, "shorter than what they share")


def test_runs_must_end_at_rest() -> None:
    _, parting = latch()
    short = Run(parting.first.start, parting.first.steps[:-1])
    refused(pair_of(short, parting.second), 0, "does not end at rest")


def test_runs_must_end_apart() -> None:
    _, parting = latch()
    refused(pair_of(parting.first, parting.first), 0, "end alike")


def test_the_event_must_come_at_rest() -> None:
    """An input that is on for less time than a gate takes: no race of the design."""
    circuit, parting = latch()
    start = parting.first.start
    moving = [structs.replace(start, settings=settings) for settings in ((0, 1), (0, 0))]
    assert not any(at_rest(circuit, state) for state in (start, *moving))
    base = tuple(Step((), state) for state in moving)
    ends = [there for there in still_steps(circuit, start) if at_rest(circuit, there)]
    runs = [Run(start, (*base, Step((), end))) for end in ends]
    refused(pair_of(runs[0], runs[1]), 0, "one event from rest")


def test_the_start_counts_as_rest() -> None:
    circuit, parting = latch()
    start = parting.first.start
    assert not at_rest(circuit, start)
    ends = [there for there in still_steps(circuit, start) if at_rest(circuit, there)]
    believe_parting(circuit, pair_of(*(Run(start, (Step((), end),)) for end in ends)), 0)
