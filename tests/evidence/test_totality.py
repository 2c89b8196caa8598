"""A system that cannot move, or contradicts itself, proves nothing."""

from __future__ import annotations

import pytest

from tests.agreement.circuits import circuit_of
from tests.engines.systems import counter, system_of
from verifier.evidence.error import Contradiction, DeadEnd, EvidenceError
from verifier.evidence.totality import total
from verifier.transition.compile import compile_circuit
from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.system import System


def lamp(
    step: str = "any", start: bool = False, state: int | None = None, narrow: bool = False
) -> System:
    """One lamp that is switched at will, unless `step` says otherwise."""
    graph = Graph()
    on, wish = graph.input("lamp"), graph.input("wish")
    steps = {
        "any": TRUE,
        "on": wish,
        "off": wish ^ 1,
        "none": FALSE,
        "change": graph.same(on, wish) ^ 1,
        "while off": on ^ 1,
        "while on": on,
    }
    allowed = TRUE if state is None else on ^ state
    return system_of(
        graph,
        [(on, start, wish)],
        [wish],
        [("rule", steps[step])],
        state_allowed=FALSE if narrow else allowed,
        state_assumptions=[("rule", FALSE if narrow else allowed)],
    )


def test_a_counter_is_total() -> None:
    assert total(counter(3)).obligations == 4


@pytest.mark.parametrize("seed", range(30))
def test_every_circuit_is_total(seed: int) -> None:
    assert total(compile_circuit(circuit_of(seed)).system).obligations == 4


def test_assumptions_that_allow_no_state() -> None:
    with pytest.raises(Contradiction, match="contradict each other"):
        total(lamp(narrow=True))


def test_a_start_that_is_not_allowed() -> None:
    with pytest.raises(Contradiction, match="start"):
        total(lamp(step="on", start=False, state=0))


def test_a_state_without_a_next_one() -> None:
    with pytest.raises(DeadEnd) as caught:
        total(lamp(step="none"))
    assert caught.value.state in ((False,), (True,))


@pytest.mark.parametrize(("step", "stuck"), [("while off", True), ("while on", False)])
def test_the_state_without_a_next_one_is_told(step: str, stuck: bool) -> None:
    with pytest.raises(DeadEnd) as caught:
        total(lamp(step=step))
    assert caught.value.state == (stuck,)


def test_a_system_that_may_not_stand_still() -> None:
    with pytest.raises(EvidenceError, match="nothing happens"):
        total(lamp(step="change"))


def test_steps_that_leave_what_is_allowed() -> None:
    with pytest.raises(EvidenceError, match="leads to a state that is not"):
        total(lamp(step="any", state=1))
