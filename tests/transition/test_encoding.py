"""Every valuation of the bits means one state, and every state has a valuation."""

from __future__ import annotations

from itertools import product

import pytest

from tests.simulation.bench import Bench
from verifier.transition.encoding import (
    Encoding,
    element_code,
    element_position,
    switch_code,
    switch_value,
)
from verifier.transition.graph import Graph

COUNTS = (1, 2, 3, 4)


@pytest.mark.parametrize("count", COUNTS)
def test_codes_are_read_back(count: int) -> None:
    assert [element_position(element_code(p, count)) for p in range(count)] == list(range(count))
    assert [switch_value(switch_code(v, count)) for v in range(count)] == list(range(count))


@pytest.mark.parametrize("count", COUNTS)
def test_literals_of_an_element_agree_with_its_code(count: int) -> None:
    bench, graph = Bench(), Graph()
    element = bench.element("spool", tuple("abcd"[:count]))
    encoding = Encoding(graph, bench.circuit())
    nodes = encoding.elements[element]
    for code in product((False, True), repeat=count - 1):
        values = dict(zip(nodes, code, strict=True))
        stands = element_position(code)
        for some in subsets(count):
            assert graph.evaluate([encoding.at(element, some)], values) == [stands in some]
        beyond = [encoding.beyond(element, k) for k in range(count + 1)]
        assert graph.evaluate(beyond, values) == [stands >= k for k in range(count + 1)]


@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("following", [False, True])
def test_literals_of_a_switch_agree_with_its_code(count: int, following: bool) -> None:
    bench, graph = Bench(), Graph()
    switch = bench.switch("weather", *"abcd"[:count])
    encoding = Encoding(graph, bench.circuit())
    nodes = (encoding.next_switches if following else encoding.switches)[switch]
    for code in product((False, True), repeat=count - 1):
        values = dict(zip(nodes, code, strict=True))
        for some in subsets(count):
            literal = encoding.setting(switch, some, following)
            assert graph.evaluate([literal], values) == [switch_value(code) in some]


def subsets(count: int) -> list[tuple[int, ...]]:
    return [tuple(k for k in range(count) if mask >> k & 1) for mask in range(1 << count)]
