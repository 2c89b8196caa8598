"""Asynchronous examples with published outcomes, each written as a design of gates with delays.

Sources: Mano, Digital Design, chapter 9 (stable states of the first circuit, critical race of the
second, total state 1101 from memory); NOR latch, static-1 hazard, inverter ring, C-element and
glitch latch: standard examples of asynchronous theory (Brzozowski and Seger). All outcomes derived
again for this project by general multiple winner analysis.
"""

from __future__ import annotations

from itertools import product

import pytest

from tests.outside.outcomes import circuit_named, gates, put, reachable, resting, verdicts
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.movement import at_rest
from verifier.simulation.steps import start

LEVEL = {"0": "zero", "1": "one"}


def state_of(name: str, outputs: str, bits: str, inputs: str = "", levels: str = "") -> State:
    """The state with these outputs of gates and these inputs."""
    circuit = circuit_named(name)
    values = {f"{g}__output": LEVEL[b] for g, b in zip(outputs.split(), bits, strict=True)}
    values.update({i: LEVEL[b] for i, b in zip(inputs.split(), levels, strict=True)})
    return put(circuit, start(circuit), **values)


def outcomes(circuit: Circuit, state: State, names: str) -> set[str]:
    return {gates(circuit, end, names) for end in resting(circuit, state)}


def test_mano_1_stable_states() -> None:
    circuit = circuit_named("mano_1")
    stable = {
        bits + x
        for bits in ("00", "01", "10", "11")
        for x in "01"
        if at_rest(circuit, state_of("mano_1", "y1 y2", bits, "x", x))
    }
    assert stable == {"000", "011", "110", "101"}


@pytest.mark.parametrize(
    ("before", "x", "after"),
    [("00", "1", "01"), ("11", "1", "10"), ("01", "0", "11"), ("10", "0", "00")],
)
def test_mano_1_transitions_are_unique(before: str, x: str, after: str) -> None:
    state = state_of("mano_1", "y1 y2", before, "x", x)
    assert outcomes(circuit_named("mano_1"), state, "y1 y2") == {after}


@pytest.mark.parametrize(
    ("before", "x", "after"),
    [("11", "00", {"00", "01"}), ("11", "01", {"11"}), ("00", "11", {"11"})],
    ids=["critical race", "x1 falls", "x1 rises"],
)
def test_mano_2_latch_race(before: str, x: str, after: set[str]) -> None:
    state = state_of("mano_2", "y1 y2", before, "x1 x2", x)
    assert outcomes(circuit_named("mano_2"), state, "y1 y2") == after


def test_mano_2_before_the_race_it_rests() -> None:
    circuit = circuit_named("mano_2")
    for before, x in (("11", "01"), ("11", "11"), ("00", "01")):
        assert at_rest(circuit, state_of("mano_2", "y1 y2", before, "x1 x2", x))


def test_nor_latch_after_both_inputs() -> None:
    circuit = circuit_named("nor_latch")
    both = state_of("nor_latch", "q qn", "00", "set reset", "11")
    assert outcomes(circuit, both, "q qn") == {"00"}
    released = state_of("nor_latch", "q qn", "00", "set reset", "00")
    assert outcomes(circuit, released, "q qn") == {"01", "10"}


def test_static_hazard() -> None:
    assert verdicts("hazard") == {"z drops": "violated", "z stays down": "holds"}
    circuit = circuit_named("hazard")
    switched = put(circuit, start(circuit), a="zero")
    assert {gates(circuit, state, "z") for state in reachable(circuit, switched)} == {"0", "1"}
    assert outcomes(circuit, switched, "z") == {"1"}


def test_static_hazard_is_covered_by_the_consensus_term() -> None:
    assert verdicts("hazard_covered") == {"z drops": "holds", "z stays down": "holds"}


def test_inverter_ring() -> None:
    circuit = circuit_named("ring")
    still = start(circuit)
    assert outcomes(circuit, still, "r1 r2 r3") == {"101"}
    enabled = put(circuit, still, enable="on")
    assert outcomes(circuit, enabled, "r1 r2 r3") == set()
    for name in ("r1", "r2", "r3"):
        seen = {gates(circuit, state, name) for state in reachable(circuit, enabled)}
        assert seen == {"0", "1"}


@pytest.mark.parametrize(("c", "ab"), list(product("01", ("00", "01", "10", "11"))))
def test_c_element(c: str, ab: str) -> None:
    circuit = circuit_named("c_element")
    expected = ab[0] if ab[0] == ab[1] else c
    assert outcomes(circuit, state_of("c_element", "c", c, "a b", ab), "c") == {expected}


def test_glitch_latch() -> None:
    circuit = circuit_named("glitch_latch")
    assert at_rest(circuit, start(circuit))
    switched = put(circuit, start(circuit), a="one")
    assert outcomes(circuit, switched, "q") == {"0", "1"}
