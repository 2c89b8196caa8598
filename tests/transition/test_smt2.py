"""The printed definitions and obligations, read by z3 as anybody would."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from random import Random

import pytest
import z3

from tests.agreement.circuits import circuit_of
from tests.simulation.bench import Bench, demand, high
from verifier.model.circuit import Circuit
from verifier.model.condition import All, At, Hand, Not
from verifier.transition.compile import compile_circuit
from verifier.transition.smt2 import Symbols, definitions_text, obligations_text
from verifier.transition.system import Goal, Lemma, Proved, System

ROOT = Path(__file__).resolve().parent.parent.parent


def answers(script: str) -> list[str]:
    context = z3.Context()
    return str(z3.Z3_eval_smtlib2_string(context.ref(), script)).split()


def proved(goal: Goal, *lemmas: Lemma) -> Proved:
    return Proved(goal.name, lemmas, "by hand")


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


def test_a_proof_s_obligations_are_all_unsat() -> None:
    compiled = compile_circuit(chain())
    goals = [question.goal for question in compiled.questions]
    found = answers(obligations_text(compiled.system, goals, [proved(g) for g in goals]))
    # Two goals and what the assumption says of states: at the start, and after a step.
    assert found == ["unsat"] * 6


def test_a_false_claim_is_not() -> None:
    bench = Bench()
    pushed = bench.hand("pushed")
    spool = bench.element("spool", ("in", "out"), (1, Hand(pushed)), otherwise=0)
    compiled = compile_circuit(bench.circuit(demand("never", At(spool, (1,)))))
    goal = compiled.questions[0].goal
    script = obligations_text(compiled.system, [goal], [proved(goal)])
    assert answers(script) == ["unsat", "sat"]
    wrong: Lemma = ((0, True),)
    assert "sat" in answers(obligations_text(compiled.system, [goal], [proved(goal, wrong)]))


@pytest.mark.parametrize("seed", range(12))
def test_definitions_say_what_the_graph_says(seed: int) -> None:
    """Under random values z3 finds the values of all next bits as the graph does."""
    random = Random(seed)
    system = compile_circuit(circuit_of(seed)).system
    script = definitions_text(system)
    for _ in range(5):
        values = {node: random.random() < 0.5 for node in inputs(system)}
        assert answers(script + pinned(system, values)) == ["unsat"]


def inputs(system: System) -> list[int]:
    return [latch.node for latch in system.latches] + [choice.node for choice in system.choices]


def pinned(system: System, values: dict[int, bool]) -> str:
    """Asks for one next bit that differs from the graph's."""
    latches, choices = system.latches, system.choices
    names = [latch.name for latch in latches] + [f"chosen: {choice.name}" for choice in choices]
    lines = [
        f"(assert (= |{name}| {str(values[node]).lower()}))"
        for name, node in zip(names, inputs(system), strict=True)
    ]
    after = system.graph.evaluate([latch.next for latch in latches], values)
    same = [
        f"(= |after: {latch.name}| {str(value).lower()})"
        for latch, value in zip(latches, after, strict=True)
    ]
    return "\n".join([*lines, f"(assert (not (and true {' '.join(same)})))", "(check-sat)"])


def test_names_are_the_circuit_s_and_all_different() -> None:
    text = definitions_text(compile_circuit(chain()).system)
    assert "(declare-const |valve.first is open| Bool)" in text
    assert "|lift/1 is fed|" in text
    assert "(define-fun |valve.second must move| () Bool" in text
    symbols = Symbols()
    assert symbols_of(symbols, ["a", "a", "a|b", "a/b"]) == ["|a|", "|a (2)|", "|a/b|", "|a/b (2)|"]


def symbols_of(symbols: Symbols, words: Sequence[str]) -> list[str]:
    return [symbols.new(word) for word in words]


def test_the_text_is_the_same_under_every_hash_seed() -> None:
    program = (
        "from tests.agreement.circuits import circuit_of\n"
        "from verifier.transition.compile import compile_circuit\n"
        "from verifier.transition.smt2 import definitions_text\n"
        "print([definitions_text(compile_circuit(circuit_of(s)).system) for s in range(5)])\n"
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
