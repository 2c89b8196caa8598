"""Many goals at once, and the simplest among shortest runs."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from tests.engines.systems import Truth, counter, equals, goals_of, random_system
from verifier.engines.engine import Budget
from verifier.engines.many import reach_each, search_many
from verifier.engines.walk import inputs, walk
from verifier.transition.system import Goal, Proved, Reached, System, Undecided

BUDGET = Budget(conflicts=200_000, depth=70)


@pytest.mark.parametrize("ask", [search_many, reach_each])
@pytest.mark.parametrize("seed", range(40))
def test_every_goal_has_its_own_true_answer(ask: object, seed: int) -> None:
    assert callable(ask)
    system, literals = random_system(Random(seed))
    truth, goals = Truth(system), goals_of(literals)
    findings = ask(system, goals, BUDGET)
    assert [finding.goal for finding in findings] == [goal.name for goal in goals]
    for goal, finding in zip(goals, findings, strict=True):
        length = truth.shortest(goal.bad)
        if length is None:
            assert isinstance(finding, Proved)
        else:
            assert isinstance(finding, Reached)
            assert finding.shortest
            assert len(finding.choices) == length


def test_goals_at_many_depths_are_found_in_one_search() -> None:
    system = counter(4, top=11)
    digits = [2 * latch.node for latch in system.latches]
    goals = [Goal(str(n), equals(system.graph, digits, n)) for n in reversed(range(16))]
    for goal, finding in zip(goals, search_many(system, goals, BUDGET), strict=True):
        if int(goal.name) <= 11:
            assert isinstance(finding, Reached)
            assert len(finding.choices) == int(goal.name)
        else:
            assert isinstance(finding, Proved)


def test_two_goals_of_one_name_are_refused() -> None:
    system = counter(2)
    with pytest.raises(ValueError, match="same name"):
        search_many(system, [Goal("twin", 0), Goal("twin", 1)], BUDGET)


def test_no_goal_is_no_question() -> None:
    assert search_many(counter(2), [], BUDGET) == ()


@pytest.mark.parametrize("seed", range(60))
def test_the_simplest_run_has_fewest_events_changes_of_surroundings_and_motions(seed: int) -> None:
    """Against all runs of the shortest length, tried one by one."""
    system, literals = random_system(Random(seed), latches=4, choices=2)
    truth = Truth(system)
    for goal in goals_of(literals):
        length = truth.shortest(goal.bad)
        if length is None or length > 3:
            continue
        (found,) = search_many(system, [goal], BUDGET)
        assert isinstance(found, Reached)
        rows = list(product([False, True], repeat=len(system.choices)))
        costs = [
            cost
            for choices in product(rows, repeat=length)
            if (cost := price(system, choices, goal)) is not None
        ]
        assert price(system, found.choices, goal) == min(costs)


def price(
    system: System, choices: tuple[tuple[bool, ...], ...], goal: Goal
) -> tuple[int, int, int] | None:
    """Events, changes of surroundings and motions of a run into the goal; None if it is none."""
    states = walk(system, choices)
    if states is None:
        return None
    graph = system.graph
    if not graph.evaluate([goal.bad], inputs(system, states[-1], (False,) * len(system.choices)))[
        0
    ]:
        return None
    turned = [system.events[k] for k in system.surroundings]
    price = [0, 0, 0]
    for state, row in zip(states, choices, strict=False):
        values = inputs(system, state, row)
        for kind, things in enumerate((system.events, turned, system.motions)):
            price[kind] += sum(graph.evaluate([one.literal for one in things], values))
    return price[0], price[1], price[2]


def test_a_budget_that_ends_early_says_how_far_it_got() -> None:
    system = counter(8)
    digits = [2 * latch.node for latch in system.latches]
    far = Goal("far", equals(system.graph, digits, 200))
    near = Goal("near", equals(system.graph, digits, 1))
    findings = search_many(system, [far, near], Budget(conflicts=100_000, depth=5))
    assert isinstance(findings[0], Undecided)
    assert findings[0].depth >= 4
    assert isinstance(findings[1], Reached)
