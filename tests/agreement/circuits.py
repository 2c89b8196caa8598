"""Random small circuits for the agreement of simulator, explicit search, compiler and solvers.

`random_circuit(random)` builds a valid `Circuit` directly, without the language: one to four moving
elements with two or three positions, both bores, one-way passages, lines that can be contested or
trapped, held and momentary hands, switches, supplies that may be weak, a liquid network, cams,
assumptions and properties of all five forms. Sizes are kept near one of `MOST_STATES` and below.
`circuits()` is the hypothesis strategy over the same generator; it shrinks.
"""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st

from tests.agreement.acceptances import random_acceptances
from tests.agreement.properties import random_assumption, random_properties
from tests.agreement.workshop import Workshop, add_part
from verifier.model.circuit import Circuit, Network, Way, Where

# Most defects show in few states, and one circuit of many states costs as much as ten of few.
MOST_STATES = (150, 400, 400, 400, 1_500)
MOST_SURROUNDINGS = 16


def circuit_of(seed: int) -> Circuit:
    """The random circuit of a seed; the same on every run and machine."""
    return random_circuit(Random(seed))


def circuits() -> st.SearchStrategy[Circuit]:
    return st.randoms(use_true_random=False).map(random_circuit)


def random_circuit(random: Random) -> Circuit:
    tidy = random.random() < 0.6
    lines = random.randint(3, 6) if tidy else random.choice((1, 2, 3, 3, 4))
    shop = Workshop(random, lines, tidy)
    for _ in range(random.choice((1, 1, 1, 2))):
        shop.add_supply(random.random() < (0.1 if tidy else 0.25))
    wanted = random.choice((1, 2, 2, 3, 3, 3, 4, 4, 4))
    while len(shop.elements) < wanted:
        add_part(shop, wanted)
    for _ in range(random.choice((0, 0, 0, 1) if tidy else (0, 0, 1, 1, 2))):
        shop.add_passage_part()
    for _ in range(random.choice((0, 0, 0, 1, 2))):
        shop.add_manifold()
    if random.random() < 0.3:
        shop.add_switch("weather", ("dry", "wet"))
    most = random.choice(MOST_STATES)
    while shop.size() > most or shop.surroundings() > MOST_SURROUNDINGS:
        if not shop.forget_something():
            break
    shop.settle_elements()
    circuit = shop.build(_networks(shop))
    if random.random() < 0.3:
        circuit = random_assumption(random, circuit)
    circuit = random_properties(random, circuit)
    return random_acceptances(random, circuit) if random.random() < 0.5 else circuit


def _networks(shop: Workshop) -> tuple[Network, ...]:
    """Tanks joined to a header through positions of elements; sometimes a vapour loop as well."""
    random = shop.random
    networks = []
    for medium in ("liquid", "vapour"):
        if random.random() < (0.25 if medium == "liquid" else 0.8):
            continue
        places = tuple(f"{medium}_{place}" for place in ("tank", "header", "coupling", "drain"))
        ways = []
        for _ in range(random.randint(2, 5)):
            start, end = random.sample(range(len(places)), 2)
            ways.append(Way(None, start, end, random.random() < 0.4, _where(shop)))
        networks.append(Network("liquid" if medium == "liquid" else "vapour", places, tuple(ways)))
    return tuple(networks)


def _where(shop: Workshop) -> tuple[Where, ...]:
    random = shop.random
    chosen = random.sample(range(len(shop.elements)), min(len(shop.elements), random.randint(0, 2)))
    found = []
    for element in sorted(chosen):
        count = len(shop.elements[element].positions)
        some = random.sample(range(count), random.randint(1, count - 1))
        found.append(Where(element, tuple(sorted(some))))
    return tuple(found)
