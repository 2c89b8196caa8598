"""The and-inverter graph against plain truth tables."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from verifier.transition.graph import FALSE, TRUE, Graph

INPUTS = 4
ROWS = list(product((False, True), repeat=INPUTS))
Table = tuple[bool, ...]


def random_literals(random: Random, graph: Graph) -> dict[int, Table]:
    """Literals built by every operation, each with its truth table worked out beside it."""
    pool: list[tuple[int, Table]] = [(FALSE, (False,) * len(ROWS)), (TRUE, (True,) * len(ROWS))]
    for k in range(INPUTS):
        pool.append((graph.input(f"i{k}"), tuple(row[k] for row in ROWS)))
    for _ in range(40):
        (a, x), (b, y), (c, z) = (random.choice(pool) for _ in range(3))
        if random.random() < 0.5:
            a, x = a ^ 1, tuple(not bit for bit in x)
        rows = list(zip(x, y, z, strict=True))
        pool.append(
            random.choice(
                (
                    (graph.both(a, b), tuple(p and q for p, q, _ in rows)),
                    (graph.either(a, b), tuple(p or q for p, q, _ in rows)),
                    (graph.choose(a, b, c), tuple(q if p else r for p, q, r in rows)),
                    (graph.same(a, b), tuple(p == q for p, q, _ in rows)),
                    (graph.all([a, b, c]), tuple(p and q and r for p, q, r in rows)),
                    (graph.any([a, b, c]), tuple(p or q or r for p, q, r in rows)),
                )
            )
        )
    return dict(pool)


@pytest.mark.parametrize("seed", range(60))
def test_literals_have_their_truth_tables(seed: int) -> None:
    graph = Graph()
    tables = random_literals(Random(seed), graph)
    literals = list(tables)
    for row, case in enumerate(ROWS):
        values = {k + 1: value for k, value in enumerate(case)}
        assert graph.evaluate(literals, values) == [tables[lit][row] for lit in literals]
    words = {
        k + 1: sum(1 << row for row, case in enumerate(ROWS) if case[k]) for k in range(INPUTS)
    }
    for literal, word in zip(literals, graph.words(literals, words, len(ROWS)), strict=True):
        assert [bool(word >> row & 1) for row in range(len(ROWS))] == list(tables[literal])
        assert graph.never(literal, INPUTS) == (not any(tables[literal]))


@pytest.mark.parametrize("seed", range(20))
def test_substitution_is_composition(seed: int) -> None:
    random, graph = Random(seed), Graph()
    literals = list(random_literals(random, graph))
    put = {k + 1: random.choice(literals) for k in range(INPUTS)}
    made = graph.substitute(literals, put)
    for case in ROWS:
        values = {k + 1: value for k, value in enumerate(case)}
        inner = graph.evaluate(list(put.values()), values)
        assert graph.evaluate(made, values) == graph.evaluate(
            literals, dict(zip(put, inner, strict=True))
        )


def test_nodes_are_shared_and_what_is_known_is_folded_away() -> None:
    graph = Graph()
    a, b = graph.input("a"), graph.input("b")
    ab = graph.both(a, b)
    size = len(graph.fanins)
    assert graph.both(b, a) == ab
    assert graph.both(a, ab) == ab
    assert graph.both(a ^ 1, ab) == FALSE
    assert graph.either(a, ab) == a
    assert graph.both(ab ^ 1, a ^ 1) == a ^ 1
    assert len(graph.fanins) == size
    assert graph.both(ab ^ 1, a) == graph.both(a, b ^ 1)


def test_more_inputs_than_wanted_are_not_tried() -> None:
    graph = Graph()
    a, b, c = (graph.input(name) for name in "abc")
    hidden = graph.all([graph.either(a, b), graph.either(a ^ 1, b), graph.both(b ^ 1, c)])
    assert graph.never(hidden, 3)
    assert not graph.never(hidden, 2)


def test_a_copy_grows_alone() -> None:
    graph = Graph()
    a, b = graph.input("a"), graph.input("b")
    other = graph.copy()
    assert other.both(a, b) == graph.both(a, b)
    other.input("c")
    assert len(other.fanins) == len(graph.fanins) + 1
    assert 4 not in graph.names
