"""The systems behind *no race* say of steps, of firm ways and of ends what the simulator says."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.agreement.circuits import circuit_of
from tests.agreement.orders import compare_orders
from tests.agreement.ways import compare_ends
from tests.outside.outcomes import circuit_named, explored
from verifier.simulation.explore import Exploration
from verifier.simulation.races import races
from verifier.transition.compile import compile_circuit

EACH = 10


@pytest.mark.parametrize("first", range(0, 50, EACH))
def test_steps_and_ways_of_circuits_by_number(first: int) -> None:
    for number in range(first, first + EACH):
        circuit = circuit_of(number)
        compare_orders(compile_circuit(circuit), Exploration(circuit), number)


def test_ends_of_circuits_by_number() -> None:
    said: Counter[str] = Counter()
    for number in range(EACH):
        circuit = circuit_of(number)
        said += compare_ends(compile_circuit(circuit), races(Exploration(circuit)))
    assert said["ends undecided"] == 0
    assert said["ends apart"] > EACH // 2
    assert said["ends alike"] > EACH // 2


@pytest.mark.parametrize("name", ["mano_1", "mano_2", "nor_latch", "glitch_latch", "pulse"])
def test_asynchronous_examples(name: str) -> None:
    compiled = compile_circuit(circuit_named(name))
    compare_orders(compiled, explored(name), 1)
    assert compare_ends(compiled, races(explored(name)))["ends undecided"] == 0
