"""Pressures worked out on paper (rules P1 to P6), and reachability judged by networkx."""

from __future__ import annotations

from random import Random

import networkx
import pytest

from tests.simulation.bench import Bench, keeping
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.pressures import Pressures, pressures
from verifier.simulation.steps import start


def reading(air: Pressures, volume: int) -> str:
    return {
        (True, False): "high",
        (False, True): "low",
        (True, True): "either",
        (False, False): "neither",
    }[air.can_high[volume], air.can_low[volume]]


def at_start(circuit: Circuit) -> Pressures:
    return pressures(circuit, start(circuit))


def test_air_feeds_what_it_reaches_and_exhaust_empties_what_reaches_it() -> None:
    bench = Bench()
    air, fed, lost, sky = bench.supply("air"), bench.line("a"), bench.line("b"), bench.atmosphere()
    bench.passage(air, fed)
    bench.passage(lost, sky)
    now = at_start(bench.circuit())
    assert [reading(now, v) for v in (air, fed, lost, sky)] == ["high", "high", "low", "low"]
    assert not any(now.contested)
    assert not any(now.trapped)


def test_air_and_exhaust_at_full_bore_fight() -> None:
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("a"), bench.atmosphere()
    bench.passage(air, line)
    bench.passage(line, sky)
    now = at_start(bench.circuit())
    assert [reading(now, v) for v in (air, line, sky)] == ["either"] * 3
    assert now.contested == (True, True, True)


def test_a_pinhole_does_not_empty_a_fed_line() -> None:
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("a"), bench.atmosphere()
    bench.passage(air, line)
    bench.passage(line, sky, pinhole=True)
    now = at_start(bench.circuit())
    assert reading(now, line) == "high"
    assert not now.contested[line]


def test_a_line_fed_only_through_a_pinhole_loses_against_an_open_exhaust() -> None:
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("a"), bench.atmosphere()
    bench.passage(air, line, pinhole=True)
    bench.passage(line, sky)
    now = at_start(bench.circuit())
    assert reading(now, line) == "low"
    assert reading(now, air) == "high"


def test_pinhole_against_pinhole_is_a_fight() -> None:
    bench = Bench()
    air, line, sky = bench.supply("air"), bench.line("a"), bench.atmosphere()
    bench.passage(air, line, pinhole=True)
    bench.passage(line, sky, pinhole=True)
    now = at_start(bench.circuit())
    assert reading(now, line) == "either"
    assert now.contested == (False, True, False)


def test_air_from_a_pinhole_passes_on_through_undriven_lines() -> None:
    bench = Bench()
    air, near, far = bench.supply("air"), bench.line("near"), bench.line("far")
    bench.passage(air, near, pinhole=True)
    bench.passage(near, far)
    now = at_start(bench.circuit())
    assert [reading(now, v) for v in (near, far)] == ["high", "high"]


def test_air_from_a_pinhole_does_not_pass_a_line_that_is_exhausted() -> None:
    bench = Bench()
    air, near, far, sky = (
        bench.supply("air"),
        bench.line("near"),
        bench.line("far"),
        bench.atmosphere(),
    )
    bench.passage(air, near, pinhole=True)
    bench.passage(near, sky)
    bench.passage(near, far, pinhole=True)
    now = at_start(bench.circuit())
    assert [reading(now, v) for v in (near, far)] == ["low", "low"]


def test_a_contested_line_feeds_and_empties_through_a_pinhole() -> None:
    bench = Bench()
    air, line, far, sky = bench.supply("air"), bench.line("a"), bench.line("b"), bench.atmosphere()
    bench.passage(air, line)
    bench.passage(line, sky)
    bench.passage(line, far, pinhole=True)
    now = at_start(bench.circuit())
    assert reading(now, far) == "either"
    assert now.contested[far]


def test_two_lines_joined_to_each_other_and_to_nothing_else_have_no_air() -> None:
    bench = Bench()
    a, b = bench.line("a"), bench.line("b")
    bench.passage(a, b)
    now = at_start(bench.circuit())
    assert [reading(now, v) for v in (a, b)] == ["low", "low"]
    assert now.trapped == (True, True)


def test_what_is_cut_off_keeps_what_it_had() -> None:
    bench = Bench()
    a, b = bench.line("a"), bench.line("b")
    circuit = bench.circuit()
    now = pressures(circuit, keeping(circuit, a))
    assert [reading(now, v) for v in (a, b)] == ["high", "low"]


def test_trapped_lines_that_are_joined_and_disagree_read_either_way() -> None:
    bench = Bench()
    a, b = bench.line("a"), bench.line("b")
    bench.passage(a, b, pinhole=True)
    circuit = bench.circuit()
    now = pressures(circuit, keeping(circuit, a))
    assert [reading(now, v) for v in (a, b)] == ["either", "either"]
    assert not any(now.contested)


def test_between_trapped_lines_a_non_return_valve_passes_air_one_way() -> None:
    bench = Bench()
    a, b = bench.line("a"), bench.line("b")
    bench.passage(a, b, one_way=True)
    circuit = bench.circuit()
    with_air_before = pressures(circuit, keeping(circuit, a))
    assert [reading(with_air_before, v) for v in (a, b)] == ["either", "either"]
    with_air_behind = pressures(circuit, keeping(circuit, b))
    assert [reading(with_air_behind, v) for v in (a, b)] == ["low", "high"]


def test_a_non_return_valve_feeds_and_then_holds() -> None:
    bench = Bench()
    air, line = bench.supply("air"), bench.line("a")
    bench.passage(air, line, one_way=True)
    circuit = bench.circuit()
    now = at_start(circuit)
    assert reading(now, line) == "high"
    failed = State((), (), (1,), (False, True))
    after = pressures(circuit, failed)
    assert [reading(after, v) for v in (air, line)] == ["low", "high"]
    assert after.trapped == (False, True)


def test_an_absent_supply_drains_what_is_joined_to_it() -> None:
    bench = Bench()
    air, line = bench.supply("air", "absent"), bench.line("a")
    bench.passage(air, line)
    circuit = bench.circuit()
    now = pressures(circuit, keeping(circuit, line))
    assert [reading(now, v) for v in (air, line)] == ["low", "low"]


def test_a_weak_supply_is_read_either_way() -> None:
    bench = Bench()
    air, line = bench.supply("air", "weak"), bench.line("a")
    bench.passage(air, line)
    now = at_start(bench.circuit())
    assert [reading(now, v) for v in (air, line)] == ["either", "either"]


def test_a_passage_is_open_only_in_its_positions() -> None:
    bench = Bench()
    air, line = bench.supply("air"), bench.line("a")
    spool = bench.element("spool", ("in", "middle", "out"))
    other = bench.element("other", ("in", "out"))
    bench.passage(air, line, (spool, (0, 2)), (other, (1,)))
    circuit = bench.circuit()
    read = {
        (a, b): reading(pressures(circuit, State((a, b), (), (0,), (False, False))), line)
        for a in range(3)
        for b in range(2)
    }
    assert read == {
        (0, 0): "low",
        (1, 0): "low",
        (2, 0): "low",
        (0, 1): "high",
        (1, 1): "low",
        (2, 1): "high",
    }


@pytest.mark.parametrize("seed", range(60))
def test_networkx_reaches_what_is_fed_and_vented(seed: int) -> None:
    """Reachability by networkx (descendants, ancestors), an implementation that is not ours."""
    random = Random(seed)
    bench = Bench()
    count = random.randint(2, 9)
    for index in range(count):
        draw = random.random()
        if draw < 0.25:
            bench.supply(f"s{index}", random.choice(("present", "absent", "weak")))
        elif draw < 0.4:
            bench.atmosphere(f"o{index}")
        else:
            bench.line(f"l{index}")
    for _ in range(random.randint(1, 14)):
        a, b = random.sample(range(count), 2)
        bench.passage(a, b, pinhole=random.random() < 0.4, one_way=random.random() < 0.3)
    circuit = bench.circuit()
    now = at_start(circuit)
    begins = {s.volume: circuit.switches[s.switch].start for s in circuit.supplies}
    sources = {v for v, setting in begins.items() if setting in (0, 2)}
    sinks = {v for v, setting in begins.items() if setting in (1, 2)}
    sinks |= {v for v, volume in enumerate(circuit.volumes) if volume.open_air}

    wide, any_bore = networkx.DiGraph(), networkx.DiGraph()
    for graph in (wide, any_bore):
        graph.add_nodes_from(range(count))
    for passage in circuit.passages:
        ends = [(passage.start, passage.end)]
        if not passage.one_way:
            ends.append((passage.end, passage.start))
        any_bore.add_edges_from(ends)
        if passage.bore == "full":
            wide.add_edges_from(ends)
    fed = sources.union(*(networkx.descendants(wide, v) for v in sources))
    vented = sinks.union(*(networkx.ancestors(wide, v) for v in sinks))
    full = fed | vented
    for volume in range(count):
        if volume in full:
            expected = volume in fed, volume in vented
        else:
            inner = any_bore.subgraph(({*range(count)} - full) | {volume})
            behind = networkx.ancestors(inner, volume) | {volume}
            before = networkx.descendants(inner, volume) | {volume}
            expected = (
                any(any_bore.has_edge(s, v) for s in fed for v in behind),
                any(any_bore.has_edge(v, s) for s in vented for v in before),
            )
        assert (now.fed[volume], now.vented[volume]) == expected
        assert now.trapped[volume] == (expected == (False, False))
