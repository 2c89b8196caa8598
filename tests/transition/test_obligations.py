"""Written-down obligations: they say what the graph says, and stand when the proof does."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from random import Random

import dratify
import pytest
import z3
from pysat.solvers import Solver

from tests.agreement.circuits import circuit_of
from tests.engines.systems import counter, equals, goals_of, random_system
from tests.simulation.bench import Bench, demand, high
from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.engines.settle import settles
from verifier.evidence.certificate import certify
from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.condition import All, At, Hand, Not
from verifier.transition import dimacs, smt2
from verifier.transition.compile import compile_circuit
from verifier.transition.obligations import Sheet, comes_to_rest, free_to_move, invariant
from verifier.transition.settling import Misfit
from verifier.transition.smt2 import Symbols
from verifier.transition.system import Goal, Lemma, Proved, System
from verifier.transition.turning import Settled

ROOT = Path(__file__).resolve().parent.parent.parent
BUDGET = Budget()


def answers(script: str) -> list[str]:
    """z3's to a whole script, as anybody would put it."""
    context = z3.Context()
    return str(z3.Z3_eval_smtlib2_string(context.ref(), script)).split()


def refuted(sheet: Sheet) -> bool:
    """Whether no obligation can fail. SMT-LIB and DIMACS must agree, and a refutation must have a
    proof that the independent checker accepts, by unit propagation alone."""
    by_z3 = set(answers(smt2.script(sheet))) <= {"unsat"}
    _, clauses, _ = dimacs.clauses_of(sheet)
    with Solver("cadical153", bootstrap_with=clauses, with_proof=True) as solver:
        by_clauses = not solver.solve()
        proof = "\n".join(solver.get_proof())
    assert by_z3 == by_clauses
    if by_clauses:
        formula = dratify.parse_dimacs(dimacs.text(sheet))
        assert dratify.check_proof(formula, proof, check_rat=False, engine="python").ok
    return by_z3


@pytest.mark.parametrize("seed", range(25))
def test_they_stand_exactly_when_the_certificate_does(seed: int) -> None:
    """For proofs that a search found, and for what is left of them without some of their lemmas."""
    random = Random(seed)
    system, literals = random_system(random)
    names = [name for name, _ in system.state_assumptions]
    for goal in goals_of(literals):
        found = Directed().search(system, goal, BUDGET)
        lemmas = found.lemmas if isinstance(found, Proved) else ()
        tried = [lemmas, tuple(one for one in lemmas if random.random() < 0.5)]
        for some in dict.fromkeys(tried):
            assert refuted(invariant(system, [goal], some, names)) == stands(system, goal, some)


def stands(system: System, goal: Goal, lemmas: Sequence[Lemma]) -> bool:
    try:
        certify(system, goal, Proved(goal.name, tuple(lemmas), ""))
    except EvidenceError:
        return False
    return True


@pytest.mark.parametrize("seed", range(25))
def test_gates_say_what_the_graph_says(seed: int) -> None:
    """An obligation after a step, under random values, against the graph evaluated twice."""
    random = Random(seed)
    system, literals = random_system(random)
    goal = Goal("goal", random.choice(literals))
    lemma = tuple((i, random.random() < 0.5) for i in range(len(system.latches)))
    sheet = invariant(system, [goal], [lemma], [])
    for _ in range(20):
        state = [random.random() < 0.5 for _ in system.latches]
        chosen = [random.random() < 0.5 for _ in system.choices]
        now = dict(zip((latch.node for latch in system.latches), state, strict=True))
        now |= dict(zip((choice.node for choice in system.choices), chosen, strict=True))
        after = system.graph.evaluate([latch.next for latch in system.latches], now)
        then = dict(zip((latch.node for latch in system.latches), after, strict=True))
        step = system.graph.evaluate([system.encoding], now)[0]
        holds = not system.graph.evaluate([goal.bad], now)[0] and clause(lemma, state)
        bad, kept = system.graph.evaluate([goal.bad], then)[0], clause(lemma, after)
        begins = state == [latch.start for latch in system.latches]
        said = {
            one.words: evaluated(sheet, one.literals, state + chosen) for one in sheet.obligations
        }
        assert said.get("the invariant fails at the start", False) == (begins and not holds)
        assert said.get("a step breaks the invariant: a goal", False) == (holds and step and bad)
        lost = said.get("a step breaks the invariant: a lemma", False)
        assert lost == (holds and step and not kept)


def clause(lemma: Lemma, state: Sequence[bool]) -> bool:
    return any(state[i] == positive for i, positive in lemma)


def evaluated(sheet: Sheet, literals: Sequence[int], inputs: Sequence[bool]) -> bool:
    """Whether all literals are true; inputs come in the order in which they were made."""
    truth = [False] * len(sheet.fanins)
    for node, value in zip(sheet.inputs, inputs, strict=True):
        truth[node] = value
    for node, (a, b) in enumerate(sheet.fanins):
        if a >= 0:
            truth[node] = (truth[a >> 1] ^ bool(a & 1)) and (truth[b >> 1] ^ bool(b & 1))
    return all(truth[literal >> 1] ^ bool(literal & 1) for literal in literals)


@pytest.mark.parametrize("seed", range(12))
def test_texts_say_what_the_gates_say(seed: int) -> None:
    """Under pinned values both texts can be met exactly when an obligation fails on the gates."""
    random = Random(seed)
    compiled = compile_circuit(circuit_of(seed))
    goals = [one.goal for one in compiled.questions] or [Goal("none", 0)]
    names = [name for name, _ in compiled.system.state_assumptions]
    sheet = invariant(compiled.system, goals, [], names)
    script, (_, clauses, meanings) = smt2.script(sheet), dimacs.clauses_of(sheet)
    number = {words: int(n) for n, words in (line.split(": ", 1) for line in meanings)}
    declared = [
        name for name in sheet.inputs.values() if f"(declare-const |{name}| Bool)" in script
    ]
    for _ in range(6):
        values = [random.random() < 0.5 for _ in sheet.inputs]
        truth = dict(zip(sheet.inputs.values(), values, strict=True))
        wanted = [evaluated(sheet, one.literals, values) for one in sheet.obligations]
        pins = "".join(f"(assert (= |{name}| {str(truth[name]).lower()}))\n" for name in declared)
        text = script.replace("(push 1)\n", "(push 1)\n" + pins)
        assert answers(text) == ["sat" if fails else "unsat" for fails in wanted]
        units = [[number[name] if truth[name] else -number[name]] for name in declared]
        with Solver("minisat22", bootstrap_with=[*clauses, *units]) as solver:
            assert solver.solve() == any(wanted)


def chain() -> Circuit:
    """Air opens the first element, which opens the second: never the second alone at rest."""
    bench = Bench()
    air, line, sky = bench.supply("air", "absent"), bench.line("lift|1"), bench.atmosphere()
    held = bench.hand("held", held=True)
    first = bench.element("first", ("shut", "open"), (1, high(air)), otherwise=0)
    second = bench.element("second", ("shut", "open"), (1, At(first, (1,))), otherwise=0)
    bench.passage(air, line, (first, (1,)))
    bench.passage(line, sky, (first, (0,)))
    bench.assume("the hand stays off", Not(Hand(held)))
    unsafe = All((At(second, (1,)), Hand(held)))
    late = All((At(second, (1,)), At(first, (0,))))
    return bench.circuit(demand("never", unsafe), demand("never", late, "at_rest"))


def test_only_the_assumptions_named_help() -> None:
    compiled = compile_circuit(chain())
    unsafe, late = (question.goal for question in compiled.questions)
    named = ["the hand stays off"]
    assert refuted(invariant(compiled.system, [unsafe, late], [], named))
    assert refuted(invariant(compiled.system, [late], [], []))
    assert not refuted(invariant(compiled.system, [unsafe], [], []))
    with pytest.raises(Misfit, match="no assumption"):
        invariant(compiled.system, [unsafe], [], ["the hand is on"])


def test_an_assumption_that_the_start_does_not_meet_is_told() -> None:
    bench = Bench()
    held = bench.hand("held", held=True)
    bench.assume("held for ever", Hand(held))
    compiled = compile_circuit(bench.circuit(demand("never", Hand(held))))
    sheet = free_to_move(compiled.system)
    assert sheet.obligations[0].words == "the start is not allowed"
    assert answers(smt2.script(sheet)) == ["sat", "unsat", "unsat"]
    assert not refuted(sheet)


@pytest.mark.parametrize("seed", range(6))
def test_a_circuit_is_free_to_move(seed: int) -> None:
    assert refuted(free_to_move(compile_circuit(circuit_of(seed)).system))


def test_an_argument_for_rest_stands_or_is_out_of_shape() -> None:
    compiled = compile_circuit(chain())
    settled = settles(compiled, (), BUDGET)
    assert isinstance(settled, Settled)
    names = [name for name, _ in compiled.system.state_assumptions]
    assert refuted(comes_to_rest(compiled, settled, names))
    backwards = Settled(tuple(reversed(settled.order)), settled.lemmas)
    assert not refuted(comes_to_rest(compiled, backwards, names))
    for order in (settled.order[1:], (*settled.order, settled.order[0])):
        with pytest.raises(Misfit):
            comes_to_rest(compiled, Settled(order, ()), names)


def test_a_lemma_that_is_none_is_told() -> None:
    system = counter(3)
    goal = Goal("2", equals(system.graph, [2 * latch.node for latch in system.latches], 2))
    assert not refuted(invariant(system, [goal], [], []))
    assert not refuted(invariant(system, [goal], [()], []))
    with pytest.raises(Misfit, match="latch 7"):
        invariant(system, [goal], [((7, True),)], [])


def test_names_are_the_circuit_s_and_all_different() -> None:
    compiled = compile_circuit(chain())
    goals = [question.goal for question in compiled.questions]
    text = smt2.script(invariant(compiled.system, goals, [], []))
    assert "(declare-const |valve.first is open| Bool)" in text
    assert "(define-fun |valve.second must move| () Bool" in text
    symbols = Symbols()
    given = ["a", "a", "a|b", "a/b", "ä"]
    assert [symbols.new(words) for words in given] == [
        "|a|",
        "|a (2)|",
        "|a/b|",
        "|a/b (2)|",
        "|?|",
    ]


def test_texts_are_the_same_under_every_hash_seed() -> None:
    program = (
        "from tests.agreement.circuits import circuit_of\n"
        "from verifier.transition.compile import compile_circuit\n"
        "from verifier.transition import dimacs, smt2\n"
        "from verifier.transition.obligations import free_to_move, invariant\n"
        "for seed in range(5):\n"
        "    compiled = compile_circuit(circuit_of(seed))\n"
        "    goals = [one.goal for one in compiled.questions]\n"
        "    sheet = invariant(compiled.system, goals, [], [])\n"
        "    print(smt2.script(sheet), dimacs.text(sheet))\n"
        "    print(smt2.script(free_to_move(compiled.system)))\n"
    )
    texts = {
        subprocess.run(
            [sys.executable, "-c", program],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(texts) == 1
