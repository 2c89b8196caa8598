"""Paths between all pairs of a net against networkx, and what a bank of them costs."""

from __future__ import annotations

from random import Random

import networkx
import pytest

from tests.transition.test_elimination import any_values, open_net, random_net
from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.paths import Paths

CASES = 24


@pytest.mark.parametrize("constant", [0.1, 0.5])
@pytest.mark.parametrize("seed", range(120))
def test_all_pairs_are_those_that_open_edges_connect(seed: int, constant: float) -> None:
    """Outside check: networkx.has_path on the graph of the open edges."""
    random = Random(seed)
    graph, base, edges = random_net(random, constant)
    paths = Paths(graph, edges)
    pairs = [(start, end) for start in range(len(base)) for end in range(len(base))]
    random.shuffle(pairs)
    found = [paths.open(start, end) for start, end in pairs]
    for _ in range(CASES):
        values = any_values(random, graph)
        net = open_net(graph, len(base), edges, values)
        wanted = [networkx.has_path(net, start, end) for start, end in pairs]
        assert graph.evaluate(found, values) == wanted


def test_on_a_copy_nothing_is_added_to_the_first_graph() -> None:
    graph = Graph()
    a, b = graph.input("a"), graph.input("b")
    paths = Paths(graph, {(0, 1): a, (1, 2): b})
    known = paths.open(0, 1)
    size = len(graph.fanins)
    copy = graph.copy()
    other = paths.on(copy)
    assert other.open(0, 1) == known == a
    through = other.open(0, 2)
    assert copy.evaluate([through], {a >> 1: True, b >> 1: True}) == [True]
    assert len(graph.fanins) == size


def test_what_no_edge_joins_has_no_path() -> None:
    graph = Graph()
    paths = Paths(graph, {(0, 1): graph.input("a"), (3, 3): TRUE, (4, 5): FALSE})
    assert [paths.open(*pair) for pair in ((1, 0), (0, 2), (4, 5), (2, 2))] == [0, 0, 0, 1]


@pytest.mark.parametrize("count", [20, 40])
def test_pairs_of_branches_at_headers_cost_a_node_or_two_a_header(count: int) -> None:
    """Tanks that each lead to each of three headers: all pairs of tanks."""
    graph = Graph()
    headers = range(count, count + 3)
    edges: dict[tuple[int, int], int] = {}
    for tank in range(count):
        for header in headers:
            literal = graph.input(f"valve {tank} {header}")
            edges[tank, header] = edges[header, tank] = literal
    paths = Paths(graph, edges)
    before = len(graph.fanins)
    for tank in range(count):
        for other in range(tank):
            paths.open(tank, other)
    pairs = count * (count - 1) // 2
    assert len(graph.fanins) - before <= 6 * pairs + 40 * count
