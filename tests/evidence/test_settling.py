"""What is claimed about coming to rest must be right in every part."""

from __future__ import annotations

from functools import cache

import msgspec
import pytest

from tests.agreement.circuits import circuit_of
from verifier.engines.engine import Budget
from verifier.engines.lasso import Loops
from verifier.engines.settle import settles
from verifier.evidence.error import EvidenceError
from verifier.evidence.settling import believe_loop, confirm
from verifier.model.run import Run
from verifier.simulation.explore import Exploration
from verifier.simulation.rest import comes_to_rest
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.decode import run_of
from verifier.transition.system import Undecided
from verifier.transition.turning import Settled, Still, Thing

BUDGET = Budget(conflicts=200_000, depth=60)
SEEDS = range(120)


@cache
def findings() -> list[tuple[Compiled, Settled | Loops | Undecided]]:
    compiled = [compile_circuit(circuit_of(seed)) for seed in SEEDS]
    return [(one, settles(one, (), BUDGET)) for one in compiled]


def found(kind: type[Settled] | type[Loops]) -> list[tuple[Compiled, Settled | Loops]]:
    return [(one, finding) for one, finding in findings() if isinstance(finding, kind)]


def test_arguments_stand_only_whole_and_only_where_they_are_true() -> None:
    cases = found(Settled)
    assert len(cases) > len(SEEDS) // 2
    refused = 0
    for compiled, claim in cases[::3]:
        assert isinstance(claim, Settled)
        assert confirm(compiled, claim).obligations >= len(claim.order)
        with pytest.raises(EvidenceError, match="nothing is said of element"):
            confirm(compiled, Settled(claim.order[1:], claim.lemmas))
        twice = Settled((*claim.order, claim.order[0]), claim.lemmas)
        with pytest.raises(EvidenceError, match="no thing to be shown still"):
            confirm(compiled, twice)
        try:
            confirm(compiled, Settled(claim.order[::-1], ()))
        except EvidenceError:
            refused += 1
    assert refused > 2


@pytest.mark.parametrize("seed", [173, 199, 226, 263])
def test_assumptions_without_which_an_argument_does_not_stand_are_named(seed: int) -> None:
    circuit = circuit_of(seed)
    compiled = compile_circuit(circuit)
    claim = settles(compiled, (), BUDGET)
    assert isinstance(claim, Settled)
    (assumption,) = circuit.assumptions
    assert confirm(compiled, claim).assumptions == (assumption.name,)
    with pytest.raises(EvidenceError):
        confirm(compile_circuit(msgspec.structs.replace(circuit, assumptions=())), claim)


def test_no_argument_for_a_circuit_that_does_not_come_to_rest() -> None:
    """Every order of things is refused; a few are tried."""
    loops = found(Loops)
    assert len(loops) > 3
    for compiled, _ in loops:
        things = [Thing("element", e) for e in range(len(compiled.element_codes))]
        things += [Thing("memory", v) for v in sorted(compiled.memory_latches)]
        every = tuple(range(len(compiled.circuit.volumes)))
        for order in (things, things[::-1]):
            for steady in ((), every):
                claim = Settled(tuple(Still(thing, steady) for thing in order), ())
                with pytest.raises(EvidenceError):
                    confirm(compiled, claim)


def test_lemmas_that_do_not_hold_are_refused() -> None:
    for compiled, claim in found(Settled)[:10]:
        assert isinstance(claim, Settled)
        latch = compiled.element_codes[0][0]
        wrong = ((latch, not compiled.system.latches[latch].start),)
        with pytest.raises(EvidenceError):
            confirm(compiled, Settled(claim.order, (wrong,)))


def test_loops_are_believed_as_they_are_and_not_otherwise() -> None:
    for compiled, claim in found(Loops):
        assert isinstance(claim, Loops)
        circuit = compiled.circuit
        run = run_of(compiled, claim.reached)
        believe_loop(circuit, run, claim.loop_from)
        assert comes_to_rest(Exploration(circuit)).truth == "violated"
        with pytest.raises(EvidenceError, match="come round"):
            believe_loop(circuit, run, len(run.steps))
        with pytest.raises(EvidenceError):
            believe_loop(circuit, Run(run.start, run.steps[:-1]), claim.loop_from)
        still = msgspec.structs.replace(run.steps[0], state=run.start)
        with pytest.raises(EvidenceError):
            believe_loop(circuit, Run(run.start, (still,)), 0)
