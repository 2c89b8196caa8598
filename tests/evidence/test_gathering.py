"""Goals gathered into one condition, and proofs checked part by part."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from tests.engines.systems import Truth, goals_of, random_system
from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.evidence import invariant, steps
from verifier.evidence.certificate import certify_all
from verifier.evidence.clauses import TRUE, Clauses, Moment
from verifier.evidence.error import EvidenceError
from verifier.evidence.gathering import Branch, gathered
from verifier.transition.graph import Graph
from verifier.transition.system import Goal, Proved

BUDGET = Budget(conflicts=100_000, depth=60)


def some_goals(random: Random) -> tuple[Graph, list[int], list[int]]:
    """A graph, its inputs, and goals that share much."""
    graph = Graph()
    inputs = [graph.input(f"input {i}") for i in range(6)]
    pool = list(inputs)
    for _ in range(random.randint(0, 25)):
        a, b = (random.choice(pool) ^ random.getrandbits(1) for _ in range(2))
        pool.append(random.choice((graph.both, graph.either, graph.same))(a, b))
    goals = [random.choice(pool) ^ random.getrandbits(1) for _ in range(random.randint(1, 9))]
    goals += [graph.both(random.choice(goals), random.choice(pool)) for _ in range(4)]
    return graph, inputs, list(dict.fromkeys(goals))


@pytest.mark.parametrize("seed", range(150))
def test_the_condition_is_true_exactly_where_a_goal_is(seed: int) -> None:
    graph, inputs, goals = some_goals(Random(seed))
    branch = gathered(graph, goals)
    for bits in product((False, True), repeat=len(inputs)):
        values = {at >> 1: bit for at, bit in zip(inputs, bits, strict=True)}
        solid = {node: TRUE if bit else -TRUE for node, bit in values.items()}
        moment = Moment(graph, Clauses(), solid.__getitem__)
        wanted = any(graph.evaluate(goals, values))
        assert moment.literal(goals[0]) == (TRUE if graph.evaluate(goals, values)[0] else -TRUE)
        assert branch.value(moment) == (TRUE if wanted else -TRUE)
        told = [
            all(graph.evaluate(literals, values)) and behind.value(moment) == TRUE
            for literals, behind in branch.parts()
        ]
        assert any(told) == wanted


@pytest.mark.parametrize("seed", range(20))
def test_a_goal_that_is_left_out_is_noticed(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is wrong with gathering: a proof of fewer goals is none of all."""
    system, literals = random_system(Random(seed))
    goals = goals_of(literals)
    truth = Truth(system)
    reachable = [goal for goal in goals if truth.shortest(goal.bad) is not None]
    safe = [goal for goal in goals if truth.shortest(goal.bad) is None]
    claims = []
    for goal in safe:
        finding = Directed().search(system, goal, BUDGET)
        assert isinstance(finding, Proved)
        claims.append(finding)
    kept = [goal.bad for goal in safe]

    def forgetful(graph: Graph, bads: list[int]) -> Branch:
        return gathered(graph, kept or [0])

    monkeypatch.setattr(invariant, "gathered", forgetful)
    for goal in reachable:
        with pytest.raises(EvidenceError):
            certify_all(system, [*safe, goal], [*claims, Proved(goal.name, (), "wrong")])


@pytest.mark.parametrize("seed", range(60))
def test_part_by_part_the_same_stands(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    random = Random(seed)
    system, literals = random_system(random)
    goals, count = goals_of(literals), len(system.latches)
    lemmas = tuple(((random.randrange(count), random.random() < 0.5),) for _ in range(2))
    truth = Truth(system)
    for some in ((), lemmas):
        for several in (goals[:1], goals[:2], goals):
            proofs = [Proved(goal.name, some, "guess") for goal in several]
            at_once = stands(system, several, proofs)
            monkeypatch.setattr(steps, "AT_ONCE", 0)
            monkeypatch.setattr(steps, "ANYWHERE", 0)
            assert stands(system, several, proofs) == at_once
            monkeypatch.undo()
            if at_once:
                assert all(truth.shortest(goal.bad) is None for goal in several)


def stands(system: object, goals: list[Goal], proofs: list[Proved]) -> object:
    try:
        return certify_all(system, goals, proofs)  # type: ignore[arg-type]
    except EvidenceError:
        return None
