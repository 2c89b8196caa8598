"""Engines that are wrong on purpose: whatever they claim, evidence must not let it through."""

from __future__ import annotations

from random import Random

import msgspec
import pytest

from tests.agreement.circuits import circuit_of
from tests.engines.systems import Truth, counter, equals, goals_of, random_system
from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.engines.many import search_many
from verifier.engines.walk import EngineError, reached
from verifier.evidence.certificate import certify, certify_all
from verifier.evidence.error import EvidenceError
from verifier.evidence.replay import believe
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.transition.compile import compile_circuit
from verifier.transition.decode import run_of
from verifier.transition.system import Goal, Lemma, Proved, Reached, System

BUDGET = Budget(conflicts=100_000, depth=60)


class ForgetsTheProperty:
    """Proposes an invariant that is inductive and says nothing of the goal."""

    def search(self, system: System, goal: Goal) -> Proved:
        return Proved(goal.name, (), "wrong")


class DeniesTheProperty:
    """Proposes that the goal always holds."""

    def search(self, system: System, goal: Goal) -> Proved:
        lemmas = tuple(((i, bit),) for i, bit in enumerate(bits_of(system, goal)))
        return Proved(goal.name, lemmas, "wrong")


class IsNotInductive:
    """Proposes that everything stays as it is at the start."""

    def search(self, system: System, goal: Goal) -> Proved:
        lemmas = tuple(((i, latch.start),) for i, latch in enumerate(system.latches))
        return Proved(goal.name, lemmas, "wrong")


class Contradicts:
    """Proposes what no state satisfies."""

    def search(self, system: System, goal: Goal) -> Proved:
        return Proved(goal.name, (((0, True),), ((0, False),)), "wrong")


class SaysNothingWithAnEmptyClause:
    def search(self, system: System, goal: Goal) -> Proved:
        return Proved(goal.name, ((),), "wrong")


class InventsALatch:
    def search(self, system: System, goal: Goal) -> Proved:
        return Proved(goal.name, (((len(system.latches), True),),), "wrong")


def bits_of(system: System, goal: Goal) -> list[bool]:
    return [bool(23 >> i & 1) for i in range(len(system.latches))]


WRONG = [
    ForgetsTheProperty(),
    DeniesTheProperty(),
    IsNotInductive(),
    Contradicts(),
    SaysNothingWithAnEmptyClause(),
    InventsALatch(),
]


@pytest.mark.parametrize("engine", WRONG, ids=lambda engine: type(engine).__name__)
def test_no_wrong_proof_of_what_a_counter_reaches(engine: ForgetsTheProperty) -> None:
    system = counter(5)
    goal = Goal("23", equals(system.graph, [2 * latch.node for latch in system.latches], 23))
    with pytest.raises(EvidenceError):
        certify(system, goal, engine.search(system, goal))


@pytest.mark.parametrize("seed", range(60))
def test_a_certificate_stands_exactly_when_the_claim_is_inductive(seed: int) -> None:
    """Random clauses, against all states and steps."""
    random = Random(seed)
    system, literals = random_system(random)
    truth, count = Truth(system), len(system.latches)
    for goal in goals_of(literals)[:3]:
        some = [random.sample(range(count), random.randint(1, min(3, count))) for _ in range(2)]
        lemmas = tuple(tuple((i, random.random() < 0.5) for i in sorted(one)) for one in some)
        inductive = is_inductive(system, truth, goal, lemmas)
        try:
            certify(system, goal, Proved(goal.name, lemmas, "guess"))
        except EvidenceError:
            assert not inductive
        else:
            assert truth.shortest(goal.bad) is None


def is_inductive(system: System, truth: Truth, goal: Goal, lemmas: tuple[Lemma, ...]) -> bool:
    def inside(state: int) -> bool:
        return (
            all(any((state >> i & 1) == sign for i, sign in lemma) for lemma in lemmas)
            and not truth.in_state(goal.bad, state)
            and truth.in_state(system.state_allowed, state)
        )

    return inside(truth.start) and all(
        all(map(inside, after)) for state, after in enumerate(truth.steps) if inside(state)
    )


@pytest.mark.parametrize("seed", range(30))
def test_a_proof_loses_its_standing_with_any_clause_it_needs(seed: int) -> None:
    system, literals = random_system(Random(seed))
    for goal in goals_of(literals):
        finding = Directed().search(system, goal, BUDGET)
        if not isinstance(finding, Proved):
            continue
        certify(system, goal, finding)
        truth = Truth(system)
        for k in range(len(finding.lemmas)):
            fewer = finding.lemmas[:k] + finding.lemmas[k + 1 :]
            if not is_inductive(system, truth, goal, fewer):
                with pytest.raises(EvidenceError):
                    certify(system, goal, Proved(goal.name, fewer, finding.engine))


def test_as_many_proofs_as_goals() -> None:
    system = counter(3, top=4)
    digits = [2 * latch.node for latch in system.latches]
    goals = [Goal(str(n), equals(system.graph, digits, n)) for n in (5, 6, 7)]
    proofs = [one for one in search_many(system, goals, BUDGET) if isinstance(one, Proved)]
    assert certify_all(system, goals, proofs).goals == ("5", "6", "7")
    with pytest.raises(EvidenceError, match="not those of the goals"):
        certify_all(system, goals, proofs[:2])
    with pytest.raises(EvidenceError, match="not those of the goals"):
        certify_all(system, goals, [proofs[0], proofs[0], proofs[2]])


def test_the_proof_of_another_goal_is_no_proof() -> None:
    system = counter(3, top=4)
    digits = [2 * latch.node for latch in system.latches]
    out, within = (Goal(str(n), equals(system.graph, digits, n)) for n in (5, 4))
    finding = Directed().search(system, out, BUDGET)
    assert isinstance(finding, Proved)
    with pytest.raises(EvidenceError):
        certify(system, within, msgspec.structs.replace(finding, goal="4"))


def test_a_run_that_does_not_run_is_not_even_claimed() -> None:
    system = counter(3)
    goal = Goal("2", equals(system.graph, [2 * latch.node for latch in system.latches], 2))
    with pytest.raises(EngineError):
        reached(system, goal, ((True,), (False,)), True, "wrong")


def violated() -> list[tuple[Circuit, int, int, Run]]:
    """Violations and witnesses of random circuits, with at least one step."""
    found = []
    for seed in range(25):
        circuit = circuit_of(seed)
        compiled = compile_circuit(circuit)
        for question in compiled.questions:
            if question.role == "trigger":
                continue
            (finding,) = search_many(compiled.system, [question.goal], BUDGET)
            if isinstance(finding, Reached) and finding.choices:
                run = run_of(compiled, finding)
                found.append((circuit, question.property, question.instance, run))
    return found


def test_a_run_is_believed_as_it_is_and_not_otherwise() -> None:
    """Cut short it shows nothing (it was a shortest one); with a hand, a state or the start changed
    it does not replay."""
    cases = violated()
    assert len(cases) > 10
    for circuit, prop, instance, run in cases:
        believe(circuit, prop, instance, run)
        short = msgspec.structs.replace(run, steps=run.steps[:-1])
        with pytest.raises(EvidenceError, match="does not show"):
            believe(circuit, prop, instance, short)
        last = run.steps[-1]
        nobody = msgspec.structs.replace(last, acting=(len(circuit.hands),))
        nowhere = msgspec.structs.replace(
            last.state, positions=tuple(len(element.positions) for element in circuit.elements)
        )
        off = msgspec.structs.replace(last, state=nowhere)
        for wrong in (nobody, off):
            with pytest.raises(EvidenceError, match="does not replay"):
                believe(circuit, prop, instance, Run(run.start, (*run.steps[:-1], wrong)))
        if last.state != run.start:
            with pytest.raises(EvidenceError, match="does not replay"):
                believe(circuit, prop, instance, Run(last.state, run.steps))
