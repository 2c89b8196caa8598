"""Both clause solvers against truth tables."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from random import Random

import pytest

from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.counting import Counter, make_fewest
from verifier.solving.sat_door import SatSolver
from verifier.solving.solver import ClauseSolver
from verifier.solving.z3_door import Z3Solver
from verifier.transition.graph import Graph

Make = Callable[[], ClauseSolver]
either_solver = pytest.mark.parametrize("make", [SatSolver, Z3Solver])


def models(count: int, clauses: list[list[int]], assumptions: list[int]) -> list[tuple[bool, ...]]:
    every = [*clauses, *([one] for one in assumptions)]
    return [
        values
        for values in product([False, True], repeat=count)
        if all(any(values[abs(one) - 1] == (one > 0) for one in clause) for clause in every)
    ]


@either_solver
@pytest.mark.parametrize("seed", range(30))
def test_answers_models_and_cores_are_right(make: Make, seed: int) -> None:
    random, solver = Random(seed), make()
    count = random.randint(2, 7)
    variables = [solver.fresh() for _ in range(count)]
    clauses: list[list[int]] = []
    for _ in range(8):
        for _ in range(random.randint(1, 4)):
            some = random.sample(variables, random.randint(1, min(3, count)))
            clauses.append([one * random.choice((1, -1)) for one in some])
            solver.add(clauses[-1])
        assumptions = [one * random.choice((1, -1)) for one in random.sample(variables, count // 2)]
        answer = solver.solve(assumptions, 10_000)
        if models(count, clauses, assumptions):
            assert answer is Answer.SAT
            values = tuple(solver.value(one) for one in variables)
            assert values in models(count, clauses, assumptions)
        else:
            assert answer is Answer.UNSAT
            assert set(solver.core()) <= set(assumptions)
            assert not models(count, clauses, solver.core())


def pigeons(solver: ClauseSolver, holes: int) -> None:
    """One pigeon more than holes; no short refutation exists (Haken 1985)."""
    sits = [[solver.fresh() for _ in range(holes)] for _ in range(holes + 1)]
    for row in sits:
        solver.add(row)
    for hole in range(holes):
        for a in range(holes + 1):
            for b in range(a):
                solver.add([-sits[a][hole], -sits[b][hole]])


@either_solver
def test_a_budget_ends_a_hard_question(make: Make) -> None:
    solver = make()
    pigeons(solver, 9)
    assert solver.solve([], 50) is Answer.UNKNOWN
    assert solver.work >= 50
    assert solver.solve([], 0) is Answer.UNKNOWN


@either_solver
def test_a_large_budget_decides_it(make: Make) -> None:
    solver = make()
    pigeons(solver, 5)
    assert solver.solve([], 1_000_000) is Answer.UNSAT


@either_solver
def test_the_same_calls_cost_the_same_work(make: Make) -> None:
    work = []
    for _ in range(2):
        solver = make()
        pigeons(solver, 6)
        solver.solve([], 1_000_000)
        work.append(solver.work)
    assert work[0] == work[1] > 1


def test_an_answer_is_no_truth_value() -> None:
    with pytest.raises(TypeError, match="three values"):
        bool(Answer.UNSAT)


@either_solver
@pytest.mark.parametrize("seed", range(20))
def test_gates_say_what_the_graph_says(make: Make, seed: int) -> None:
    random, graph = Random(seed), Graph()
    inputs = [graph.input(str(i)) for i in range(4)]
    pool = list(inputs)
    for _ in range(12):
        a, b = (random.choice(pool) ^ random.getrandbits(1) for _ in range(2))
        pool.append(random.choice((graph.both, graph.either, graph.same))(a, b))
    solver = make()
    frame = Frame(graph, Gates(solver), {})
    roots = [frame.literal(one) for one in pool]
    for values in product([False, True], repeat=4):
        given = [
            frame.literal(one) * (1 if bit else -1) for one, bit in zip(inputs, values, strict=True)
        ]
        assert solver.solve(given, 1000) is Answer.SAT
        truth = graph.evaluate(
            pool, {one >> 1: bit for one, bit in zip(inputs, values, strict=True)}
        )
        assert [solver.value(root) for root in roots] == truth


@either_solver
@pytest.mark.parametrize("seed", range(30))
def test_the_fewest_true_literals(make: Make, seed: int) -> None:
    random, solver = Random(seed), make()
    count = random.randint(2, 7)
    variables = [solver.fresh() for _ in range(count)]
    clauses = []
    for _ in range(random.randint(1, 8)):
        some = random.sample(variables, random.randint(1, min(3, count)))
        clauses.append([one * random.choice((1, 1, -1)) for one in some])
        solver.add(clauses[-1])
    counted = [one * random.choice((1, -1)) for one in variables]
    counter = Counter(solver, counted)
    for assumptions in ([], [variables[0]], [-variables[0]]):
        found = models(count, clauses, assumptions)
        answer, number = make_fewest(solver, counter, assumptions, 100_000)
        if not found:
            assert answer is Answer.UNSAT
            continue
        least = min(sum(m[abs(one) - 1] == (one > 0) for one in counted) for m in found)
        assert answer is Answer.SAT
        assert number == least
        assert sum(solver.value(one) for one in counted) == least
        again, number = make_fewest(
            solver, counter, assumptions, 100_000, least=random.randint(0, least)
        )
        assert again is Answer.SAT
        assert number == least
        limit = counter.at_most(least)
        assert solver.solve([*assumptions, *limit], 1000) is Answer.SAT
        assert sum(solver.value(one) for one in counted) == least
