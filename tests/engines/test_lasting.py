"""Guesses about phases: only those go that induction would drop, and answers stay true."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from msgspec import structs

from tests.engines.systems import Truth, goals_of, random_system
from verifier.diagnostics.limits import Limits
from verifier.engines.distances import Distances
from verifier.engines.engine import Budget
from verifier.engines.lasting import guesses
from verifier.engines.many import reach_each
from verifier.engines.relation import Allowance
from verifier.engines.slice import slice_of
from verifier.engines.together import Together
from verifier.engines.words import Words
from verifier.evidence.certificate import certify
from verifier.model.load import load
from verifier.transition.compile import compile_circuit
from verifier.transition.recovery import Recovery, recovery
from verifier.transition.system import Lemma, Proved, Reached

HERON = Path(__file__).parents[2] / "specs" / "heron" / "heron.ilk"
BUDGET = Budget(conflicts=200_000, depth=70)


@pytest.fixture(scope="module")
def posed() -> list[Recovery]:
    compiled = compile_circuit(load(HERON, Limits()).circuit)
    return [
        recovery(compiled, number, instance)
        for number, item in enumerate(compiled.circuit.properties)
        if item.form == "recovers"
        for instance in range(len(item.instances))
    ]


def inductive(one: Recovery, guessed: list[Lemma]) -> tuple[list[int], set[Lemma]]:
    bad = one.goal.bad
    together = Together(
        one.system, [bad], Distances(one.system, [bad]), Allowance(1_000_000), guessed
    )
    kept = together.settle([bad], 100_000)
    # Where the goal has to go, what is left of the guesses is not asked for.
    found = set(together._guesses) if kept else set()
    together.close()
    return kept, found


def test_random_runs_drop_nothing_that_is_inductive(posed: list[Recovery]) -> None:
    assert posed
    for one in posed:
        part = slice_of(one.system, [one.goal.bad])
        latches, phases = one.system.latches, one.system.phases
        every = [
            tuple(sorted(((phase, False), (i, latches[i].start))))
            for phase in phases
            for i in part.latches
            if i not in phases
        ]
        guessed = guesses(one.system, part, [one.goal.bad])
        assert set(guessed) < set(every)
        assert inductive(one, guessed) == inductive(one, every)


def test_what_the_guesses_prove_stands(posed: list[Recovery]) -> None:
    proved = 0
    for one in posed:
        guessed = guesses(one.system, slice_of(one.system, [one.goal.bad]), [one.goal.bad])
        proved += bool(inductive(one, guessed)[0])
        (finding,) = reach_each(one.system, [one.goal], BUDGET)
        assert isinstance(finding, Proved)
        assert certify(one.system, one.goal, finding).obligations
    assert proved


@pytest.mark.parametrize("seed", range(30))
def test_wrong_hints_change_no_answer(seed: int) -> None:
    random = Random(seed)
    system, literals = random_system(random)
    latches = range(len(system.latches))
    hinted = structs.replace(system, phases=tuple(random.sample(latches, min(2, len(latches)))))
    truth = Truth(system)
    goals = goals_of(literals)
    for goal, finding in zip(goals, reach_each(hinted, goals, BUDGET), strict=True):
        length = truth.shortest(goal.bad)
        if length is None:
            assert isinstance(finding, Proved)
            assert certify(system, goal, finding).obligations
        else:
            assert isinstance(finding, Reached)
            assert len(finding.choices) == length


@pytest.mark.parametrize("seed", range(5))
def test_words_are_those_of_the_graph(seed: int) -> None:
    random = Random(seed)
    system, literals = random_system(random)
    words = Words(system.graph, [*literals, 0, 1], 16)
    for _ in range(3):
        values = {latch.node: random.getrandbits(16) for latch in system.latches}
        assert words.of(values) == system.graph.words([*literals, 0, 1], values, 16)
