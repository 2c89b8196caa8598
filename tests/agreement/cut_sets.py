"""All cut sets of random circuits with random faults, against explicit search over all of them.

    python -m tests.agreement.cut_sets FIRST COUNT

Every set of the faults up to the order is woven into the circuit by itself and all of its states
are visited: what breaks a property, and of that what has no part that does, is compared with what
the search finds and evidence accepts.
"""

from __future__ import annotations

import sys
from itertools import combinations
from random import Random

import msgspec

from tests.agreement.circuits import circuit_of
from tests.agreement.faults import random_strike, valid
from tests.agreement.properties import random_properties
from verifier.engines.engine import Budget
from verifier.model.circuit import Circuit, Property
from verifier.model.strikes import Strike
from verifier.model.weaving import weave
from verifier.simulation.explore import Exploration
from verifier.studies.fault_questions import questions, why_not, woven_of
from verifier.studies.fault_search import Search
from verifier.studies.watching import Nobody

MOST_STATES = 1_500
Sets = frozenset[tuple[int, ...]]


def case_of(seed: int) -> tuple[Circuit, tuple[Strike, ...], int]:
    """A circuit with properties, its faults and an order, such that explicit search ends."""
    random = Random(seed)
    for number in range(seed * 1000, seed * 1000 + 1000):
        circuit = circuit_of(number)
        if not valid(circuit) or len(circuit.elements) > 3:
            continue
        if not Exploration(circuit, 60).complete:
            continue
        circuit = random_properties(random, msgspec.structs.replace(circuit, properties=()))
        count = random.choice((2, 3, 4))
        strikes = tuple(random_strike(random, circuit, k) for k in range(count))
        order = random.choice((1, 2, 2, 3))
        sets = _subsets(count, min(order, count))
        if all(_explored(circuit, strikes, one).complete for one in sets[-count:]):
            return circuit, strikes, order
    raise AssertionError(f"no circuit of seed {seed} is small enough")


def explicit(circuit: Circuit, strikes: tuple[Strike, ...], order: int, item: Property) -> Sets:
    """The minimal sets, by visiting all states with each set."""
    found: list[tuple[int, ...]] = []
    for one in _subsets(len(strikes), order):
        if any(set(part) <= set(one) for part in found):
            continue
        exploration = _explored(circuit, strikes, one)
        woven = exploration.circuit
        mine = woven.properties[circuit.properties.index(item)]
        truths = [exploration.answer(mine, each).truth for each in mine.instances]
        assert "inconclusive" not in truths or "violated" in truths
        if "violated" in truths:
            found.append(one)
    return frozenset(found)


def compare(seed: int) -> int:
    """Raises AssertionError where they differ; the number of sets that both found."""
    circuit, strikes, order = case_of(seed)
    asked = [k for k, item in enumerate(circuit.properties) if not why_not(item)]
    posed = list(questions(woven_of(circuit, strikes, asked), asked))
    search = Search(circuit, strikes, posed, order, Budget(), Nobody())
    search.run()
    search.close()
    count = 0
    for number in asked:
        standing, item = search.standings[number], circuit.properties[number]
        assert standing.complete_to == order, (seed, item.name, standing.orders)
        wanted = explicit(circuit, strikes, order, item)
        assert frozenset(standing.shown) == wanted, (seed, item.name, standing.shown, wanted)
        count += len(wanted)
    return count


def _subsets(count: int, order: int) -> list[tuple[int, ...]]:
    return [one for size in range(order + 1) for one in combinations(range(count), size)]


def _explored(circuit: Circuit, strikes: tuple[Strike, ...], one: tuple[int, ...]) -> Exploration:
    return Exploration(weave(circuit, [strikes[k] for k in one]).circuit, MOST_STATES)


def main() -> None:
    first, count = map(int, sys.argv[1:3])
    found = sum(map(compare, range(first, first + count)))
    print(f"seeds {first} to {first + count - 1}: {found} cut sets, all alike")


if __name__ == "__main__":
    main()
