"""One suite for every engine: what each must do, whatever it is made of.

The truth is exhaustive search over small systems; the numbers of a counter are arithmetic.
"""

from __future__ import annotations

from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.engines.systems import Truth, counter, equals, goals_of, random_system
from verifier.engines.engine import Budget, Engine
from verifier.engines.registry import DEFAULT, ENGINES
from verifier.evidence.certificate import certify
from verifier.transition.system import Finding, Goal, Proved, Reached, System, Undecided

BUDGET = Budget(conflicts=200_000, depth=70)
every_engine = pytest.mark.parametrize("engine", ENGINES.values(), ids=list(ENGINES))

# What an engine is for; a claim beyond it would show that this table is out of date.
PROVES = {"portfolio", "directed", "horn", "pairs"}
FINDS = {"portfolio", "directed", "bounded"}
ALWAYS_SHORTEST = {"portfolio", "bounded"}
DECIDES = {"portfolio", "directed"}


def test_the_registry() -> None:
    assert set(ENGINES) == PROVES | FINDS
    assert DEFAULT in ENGINES
    assert all(name == engine.name for name, engine in ENGINES.items())


def judge(system: System, truth: Truth, goal: Goal, finding: Finding, engine: str) -> None:
    length = truth.shortest(goal.bad)
    assert finding.goal == goal.name
    if isinstance(finding, Proved):
        assert length is None
        assert engine in PROVES
        certify(system, goal, finding)
    elif isinstance(finding, Reached):
        assert length is not None
        assert engine in FINDS
        assert runs(system, truth, finding, goal)
        assert len(finding.choices) >= length
        if finding.shortest or engine in ALWAYS_SHORTEST:
            assert len(finding.choices) == length
    else:
        assert engine not in DECIDES
        assert finding.reason
        assert length is None or finding.depth < length


def runs(system: System, truth: Truth, found: Reached, goal: Goal) -> bool:
    """Every step is one of the system, by its table of steps."""
    states = [sum(bit << i for i, bit in enumerate(state)) for state in found.states]
    return (
        states[0] == truth.start
        and len(states) == len(found.choices) + 1
        and all(len(row) == len(system.choices) for row in found.choices)
        and all(b in truth.steps[a] for a, b in pairwise(states))
        and truth.in_state(goal.bad, states[-1])
    )


@every_engine
@given(random=st.randoms(use_true_random=False))
@settings(max_examples=60)
def test_tells_the_truth_about_any_small_system(engine: Engine, random: Random) -> None:
    system, literals = random_system(random)
    truth = Truth(system)
    for goal in goals_of(literals)[:2]:
        judge(system, truth, goal, engine.search(system, goal, BUDGET), engine.name)


@every_engine
@pytest.mark.parametrize("number", [0, 1, 5, 22])
def test_a_counter_takes_as_many_steps_as_it_counts(engine: Engine, number: int) -> None:
    system = counter(5)
    digits = [2 * latch.node for latch in system.latches]
    goal = Goal("number", equals(system.graph, digits, number))
    finding = engine.search(system, goal, BUDGET)
    judge(system, Truth(system), goal, finding, engine.name)
    assert isinstance(finding, Reached) == (engine.name in FINDS)


@every_engine
def test_a_counter_never_passes_its_top(engine: Engine) -> None:
    system = counter(5, top=20)
    digits = [2 * latch.node for latch in system.latches]
    goal = Goal("beyond", system.graph.any(equals(system.graph, digits, n) for n in range(21, 32)))
    finding = engine.search(system, goal, BUDGET)
    judge(system, Truth(system), goal, finding, engine.name)
    if engine.name in DECIDES:
        assert isinstance(finding, Proved)


@every_engine
def test_the_same_question_has_the_same_answer(engine: Engine) -> None:
    for seed in range(10):
        answers = []
        for _ in range(2):
            system, literals = random_system(Random(seed))
            answers.append([engine.search(system, g, BUDGET) for g in goals_of(literals)])
        assert answers[0] == answers[1]


@every_engine
def test_a_small_budget_is_no_verdict(engine: Engine) -> None:
    system = counter(8)
    digits = [2 * latch.node for latch in system.latches]
    goal = Goal("far", equals(system.graph, digits, 200))
    finding = engine.search(system, goal, Budget(conflicts=3, depth=4))
    assert isinstance(finding, Undecided)
    assert -1 <= finding.depth < 200


@every_engine
def test_what_is_bad_at_the_start_is_reached_in_no_steps(engine: Engine) -> None:
    system = counter(3)
    goal = Goal("at once", equals(system.graph, [2 * latch.node for latch in system.latches], 0))
    finding = engine.search(system, goal, BUDGET)
    if engine.name in FINDS:
        assert isinstance(finding, Reached)
        assert finding.choices == ()
    else:
        assert isinstance(finding, Undecided)
