"""Readings of in-between pressures, against trying all of them."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from verifier.model.condition import All, Always, Any, Condition, Hand, High, Not
from verifier.transition.graph import Graph
from verifier.transition.readings import Readings, formula_of

VOLUMES = 3
READERS = tuple((reader, volume) for reader in ("a", "b") for volume in range(VOLUMES))
PRESSURES = ((True, False), (False, True), (True, True))


def random_condition(random: Random, depth: int) -> Condition:
    draw = random.random()
    if depth == 0 or draw < 0.2:
        if draw < 0.03:
            return Always(random.random() < 0.5)
        if draw < 0.1:
            return Hand(random.randrange(2))
        reader, volume = random.choice(READERS)
        return High(volume, reader)
    if draw < 0.35:
        return Not(random_condition(random, depth - 1))
    parts = tuple(random_condition(random, depth - 1) for _ in range(random.randint(0, 3)))
    return All(parts) if draw < 0.7 else Any(parts)


def true(condition: Condition, hands: tuple[bool, ...], read: dict[tuple[str, int], bool]) -> bool:
    match condition:
        case Always(value=value):
            return value
        case Hand(hand=hand):
            return hands[hand]
        case High(volume=volume, reader=reader):
            return read[reader, volume]
        case Not(of=inner):
            return not true(inner, hands, read)
        case All(of=parts):
            return all(true(part, hands, read) for part in parts)
        case Any(of=parts):
            return any(true(part, hands, read) for part in parts)
    raise AssertionError(condition)


@pytest.mark.parametrize("seed", range(150))
def test_some_reading_is_found_exactly_when_there_is_one(seed: int) -> None:
    condition = random_condition(Random(seed), 4)
    graph = Graph()
    hands = [graph.input(f"hand {k}") for k in range(2)]
    high = tuple(graph.input(f"{v} can be high") for v in range(VOLUMES))
    low = tuple(graph.input(f"{v} can be low") for v in range(VOLUMES))

    def literal(atom: Condition) -> int:
        assert isinstance(atom, Hand)
        return hands[atom.hand]

    found = Readings(graph, high, low).some(formula_of(condition, literal))
    for air in product(PRESSURES, repeat=VOLUMES):
        allowed = [
            [value for value, can in ((True, air[v][0]), (False, air[v][1])) if can]
            for _, v in READERS
        ]
        for on in product((False, True), repeat=2):
            values = {lit >> 1: bit for lit, bit in zip(hands, on, strict=True)}
            values |= {lit >> 1: can for lit, (can, _) in zip(high, air, strict=True)}
            values |= {lit >> 1: can for lit, (_, can) in zip(low, air, strict=True)}
            wanted = any(
                true(condition, on, dict(zip(READERS, read, strict=True)))
                for read in product(*allowed)
            )
            assert graph.evaluate([found], values) == [wanted]


def test_two_readers_of_one_volume_differ_and_one_reader_does_not() -> None:
    graph = Graph()
    readings = Readings(graph, (graph.input("high"),), (graph.input("low"),))

    def some(condition: Condition) -> int:
        return readings.some(formula_of(condition, lambda atom: 0))

    one, other = High(0, "one"), High(0, "other")
    assert some(All((one, Not(one)))) == 0
    assert some(All((one, Not(other)))) == graph.both(*readings.high, *readings.low)
