"""*Comes to rest* for loops worked out on paper."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.simulation.bench import Bench, high
from verifier.model.circuit import Circuit
from verifier.model.condition import All, At, Hand, Not
from verifier.simulation.explore import Exploration
from verifier.simulation.movement import at_rest
from verifier.simulation.replay import replay
from verifier.simulation.rest import comes_to_rest, knots


def ring(size: int, inverters: int) -> Circuit:
    """Cams in a ring: each follows the one before it, the first `inverters` of them the other way
    round. An odd number of inverters has no state at rest."""
    bench = Bench()
    for index in range(size):
        before = At((index - 1) % size, (1,))
        demand = Not(before) if index < inverters else before
        bench.element(f"e{index}", ("in", "out"), (1, demand), otherwise=0)
    return bench.circuit()


@pytest.mark.parametrize(
    ("size", "inverters", "truth"),
    [(1, 1, "violated"), (3, 1, "violated"), (3, 3, "violated"), (1, 0, "holds"), (2, 0, "holds")],
)
def test_rings(size: int, inverters: int, truth: str) -> None:
    circuit = ring(size, inverters)
    answer = comes_to_rest(Exploration(circuit))
    assert answer.truth == truth
    if answer.run is not None:
        replay(circuit, answer.run)
        assert answer.run.states[-1] in answer.loop
        assert not any(at_rest(circuit, state) for state in answer.loop)


def test_two_cams_that_chase_each_other_by_moving_together_do_not_rest() -> None:
    """Two inverters facing each other: one moving alone ends it, but both may always move at once.
    It is a fair loop, so it counts: the circuit needs luck to come to rest."""
    assert comes_to_rest(Exploration(ring(2, 2))).truth == "violated"


def test_a_loop_that_starves_an_element_does_not_count() -> None:
    """The ring stops when the gate shuts, and the gate must move all the time."""
    bench = Bench()
    gate = bench.element("gate", ("open", "shut"), (1, Not(At(0, (1,)))))
    bench.element("ring", ("in", "out"), (1, All((At(gate, (0,)), Not(At(1, (1,)))))), otherwise=0)
    assert comes_to_rest(Exploration(bench.circuit())).truth == "holds"


def test_a_loop_needs_hands_and_surroundings_to_be_still() -> None:
    bench = Bench()
    held = bench.hand("pushed", held=True)
    bench.element("button", ("out", "in"), (1, Hand(held)), otherwise=0)
    assert comes_to_rest(Exploration(bench.circuit())).truth == "holds"


def test_one_pilot_on_an_in_between_line_does_not_flutter_for_ever() -> None:
    """Two followers behind a spool that may read the line either way: without steady readings the
    spool could change its mind before the followers have come to rest, over and over."""
    bench = Bench()
    air = bench.supply("air", "weak")
    bench.element("a", ("in", "out"), (1, high(air)), otherwise=0)
    bench.element("b", ("in", "out"), (1, At(0, (1,))), otherwise=0)
    bench.element("c", ("in", "out"), (1, At(1, (1,))), otherwise=0)
    assert comes_to_rest(Exploration(bench.circuit())).truth == "holds"


def test_a_pressure_that_is_definite_in_between_is_read_afresh() -> None:
    """A valve vents its own pilot line at full bore while that is fed: the line is in-between when
    the spool is out and high when it is in. In: it must go out. Out: it may stay, so it rests."""
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("a"), bench.atmosphere()
    spool = bench.element("a", ("in", "out"), (1, high(line)), otherwise=0)
    bench.passage(air, line)
    bench.passage(line, sky, (spool, (1,)))
    circuit = bench.circuit()
    assert comes_to_rest(Exploration(circuit)).truth == "holds"
    # A cam that must move whenever the spool stands out, and one whenever it stands in, keep the
    # whole from rest; then the spool's reading decides anew at each turn, and may always vent.
    bench.element("b", ("in", "out"), (1, Not(At(1, (1,)))), otherwise=0)
    assert comes_to_rest(Exploration(bench.circuit())).truth == "violated"


def test_knots_of_a_graph() -> None:
    links = {0: [1], 1: [2], 2: [0, 3], 3: [4], 4: [3], 5: [5, 0], 6: []}
    found = knots(list(links), lambda node: links[node])
    assert sorted(tuple(sorted(knot)) for knot in found) == [(0, 1, 2), (3, 4), (5,), (6,)]
    chain = knots(range(5000), lambda node: [node + 1] if node < 4999 else [])
    assert all(a[0] > b[0] for a, b in pairwise(chain))
