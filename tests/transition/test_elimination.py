"""The closed form against networkx: reachability on random graphs under random truth values."""

from __future__ import annotations

from itertools import permutations, product
from random import Random

import networkx
import pytest

from verifier.transition.elimination import reached
from verifier.transition.graph import FALSE, TRUE, Graph

CASES = 64


def random_net(
    random: Random, constant: float
) -> tuple[Graph, list[int], dict[tuple[int, int], int]]:
    """Literals of few inputs, so that edges and bases share them; some constant."""
    graph = Graph()
    inputs = [graph.input(f"i{k}") for k in range(random.randint(1, 8))]

    def literal() -> int:
        draw = random.random()
        if draw < constant:
            return random.choice((FALSE, TRUE))
        one, other = (random.choice(inputs) ^ int(random.random() < 0.4) for _ in range(2))
        return one if draw < (1 + constant) / 2 else graph.both(one, other)

    count = random.randint(1, 14)
    base = [literal() if random.random() < 0.3 else FALSE for _ in range(count)]
    edges: dict[tuple[int, int], int] = {}
    for _ in range(random.randint(0, 3 * count)):
        start, end = random.randrange(count), random.randrange(count)
        edges[start, end] = literal()
        if random.random() < 0.5:
            edges[end, start] = edges[start, end]
    return graph, base, edges


def sparse_net(random: Random) -> tuple[Graph, list[int], dict[tuple[int, int], int]]:
    """Six nodes, the first always true."""
    graph = Graph()
    base, edges = [TRUE], {}
    for node in range(1, 6):
        base.append(graph.input(f"base {node}") if random.random() < 0.2 else FALSE)
    for ends in permutations(range(6), 2):
        draw = random.random()
        if draw < 0.3:
            edges[ends] = TRUE if draw < 0.2 else graph.input(f"edge {ends}")
    return graph, base, edges


def any_values(random: Random, graph: Graph) -> dict[int, bool]:
    return {node: random.random() < 0.5 for node in graph.names}


def open_net(
    graph: Graph, count: int, edges: dict[tuple[int, int], int], values: dict[int, bool]
) -> networkx.DiGraph:
    """The nodes and those edges that are open."""
    opened = graph.evaluate(list(edges.values()), values)
    net = networkx.DiGraph()
    net.add_nodes_from(range(count))
    net.add_edges_from(ends for ends, is_open in zip(edges, opened, strict=True) if is_open)
    return net


def descendants(
    graph: Graph, base: list[int], edges: dict[tuple[int, int], int], values: dict[int, bool]
) -> list[bool]:
    """For each node, whether networkx finds it from one whose base is true."""
    net = open_net(graph, len(base), edges, values)
    sources = [node for node, on in enumerate(graph.evaluate(base, values)) if on]
    wanted = set(sources).union(*(networkx.descendants(net, source) for source in sources))
    return [node in wanted for node in range(len(base))]


@pytest.mark.parametrize("constant", [0.1, 0.5])
@pytest.mark.parametrize("seed", range(150))
def test_the_closed_form_is_reachability(seed: int, constant: float) -> None:
    """Outside check: networkx.descendants on the graph of the open edges."""
    random = Random(seed)
    graph, base, edges = random_net(random, constant)
    found = reached(graph, base, edges)
    for _ in range(CASES):
        values = any_values(random, graph)
        assert graph.evaluate(found, values) == descendants(graph, base, edges, values)


def test_few_edges_of_which_many_are_always_open() -> None:
    """Outside check as above. Every edge has an input of its own. Such nets are the ones in which
    nodes turn out to be always true while their neighbours still wait."""
    random = Random(1)
    for _ in range(4000):
        graph, base, edges = sparse_net(random)
        found = reached(graph, base, edges)
        for _ in range(6):
            values = any_values(random, graph)
            assert graph.evaluate(found, values) == descendants(graph, base, edges, values)


def test_a_ring_does_not_feed_itself() -> None:
    graph = Graph()
    a = graph.input("a")
    edges = {(0, 1): a, (1, 2): TRUE, (2, 0): TRUE}
    assert reached(graph, [FALSE] * 3, edges) == [FALSE] * 3


def test_a_chain_costs_a_node_a_link() -> None:
    """The series of vents: linear in its length, joined both ways."""
    graph = Graph()
    links = [graph.input(f"vent {k}") for k in range(200)]
    edges = {(k, k + 1): link for k, link in enumerate(links)}
    edges |= {(k + 1, k): link for k, link in enumerate(links)}
    before = len(graph.fanins)
    found = reached(graph, [TRUE, *[FALSE] * 200], edges)
    assert len(graph.fanins) - before <= 200
    assert all(graph.evaluate(found, {link >> 1: True for link in links}))
    for shut in (0, 77, 199):
        values = {link >> 1: k != shut for k, link in enumerate(links)}
        assert graph.evaluate(found, values) == [k <= shut for k in range(201)]


def test_a_bank_costs_little() -> None:
    """A star of selectors behind a chain: every outlet can reach every other through the bank."""
    graph = Graph()
    count = 60
    edges: dict[tuple[int, int], int] = {}
    for k in range(1, count + 1):
        literal = graph.input(f"selector {k}")
        edges[0, k] = edges[k, 0] = literal
    base = [FALSE, *[graph.input(f"air {k}") for k in range(count)]]
    before = len(graph.fanins)
    reached(graph, base, edges)
    assert len(graph.fanins) - before <= 6 * count


def test_nodes_next_to_one_that_comes_out_true_are_not_lost() -> None:
    """Two nodes that lead to each other, and to a third that is found to be always true."""
    graph = Graph()
    x, y, z, b = (graph.input(name) for name in "xyzb")
    edges = {(0, 1): TRUE, (2, 1): x, (3, 1): x, (2, 3): y, (3, 2): z}
    found = reached(graph, [TRUE, FALSE, b, FALSE], edges)
    for bits in product((False, True), repeat=4):
        values = dict(zip(graph.names, bits, strict=True))
        _, y_on, _, b_on = bits
        assert graph.evaluate(found, values) == [True, True, b_on, b_on and y_on]
