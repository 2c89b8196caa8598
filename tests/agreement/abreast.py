"""Two designs side by side: what the study proves against explicit search with the simulator.

    python -m tests.agreement.abreast --seed 1 --count 1000

A random circuit is compared with itself after a small change inside one of its parts. The pair is
searched state by state: hands and surroundings change at rest only.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from random import Random

from msgspec import structs

from tests.agreement.cases import Disagreement
from tests.agreement.circuits import circuit_of
from verifier.changes.abreast import Abreast, abreast
from verifier.changes.circuits import compared
from verifier.changes.counterparts import Counterparts
from verifier.changes.observed import observed
from verifier.engines.engine import Budget
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.movement import at_rest, holds_some
from verifier.simulation.steps import start, successors
from verifier.studies.apart import behaviour
from verifier.studies.inquiry import Inquiry

MOST_STATES = 3_000
BUDGET = Budget(conflicts=500_000, depth=80)


def changed(circuit: Circuit, random: Random) -> Circuit:
    """The circuit with one thing inside a part done otherwise."""
    kind = random.choice(("passage", "move", "bore", "none"))
    if kind == "move":
        movable = [e for e, element in enumerate(circuit.elements) if element.moves]
        if movable:
            e = random.choice(movable)
            element = circuit.elements[e]
            moves = list(element.moves)
            moves.pop(random.randrange(len(moves)))
            elements = list(circuit.elements)
            elements[e] = structs.replace(element, moves=tuple(moves))
            return structs.replace(circuit, elements=tuple(elements))
    if kind in ("passage", "bore") and circuit.passages:
        k = random.randrange(len(circuit.passages))
        passages = list(circuit.passages)
        if kind == "passage":
            passages.pop(k)
        else:
            other = "restricted" if passages[k].bore == "full" else "full"
            passages[k] = structs.replace(passages[k], bore=other)
        return structs.replace(circuit, passages=tuple(passages))
    return circuit


def compare_abreast(circuit: Circuit, number: int) -> str:
    """What was said; Disagreement if it is not so."""
    random = Random(number)
    bare = structs.replace(circuit, properties=())
    between, _ = compared(bare, changed(bare, random))
    pair = abreast(between)
    truth = differing(pair, between)
    if truth is None:
        return "too many states"
    found = behaviour(between, Inquiry(None, BUDGET))
    if found.reason:
        return "assumptions"
    for sight in found.sights:
        if sight.answer == "same" and sight.name in truth:
            raise Disagreement(f"{sight.name} is said to be the same, and is not")
        if sight.answer == "differs" and sight.steps != truth.get(sight.name):
            raise Disagreement(f"{sight.name}: {sight.steps} steps, not {truth.get(sight.name)}")
    if found.apart is not None:
        _compare_only(pair, found.apart.only_new, found.apart.only_old)
        return f"differs, only new {found.apart.only_new}, only old {found.apart.only_old}"
    return found.answer


def _compare_only(pair: Abreast, only_new: bool | None, only_old: bool | None) -> None:
    """A circuit can always do what it does itself."""
    same = pair.old.circuit == pair.new.circuit
    if same and (only_new or only_old):
        raise Disagreement("a design is said to do what it never does")


def differing(pair: Abreast, between: Counterparts) -> dict[str, int] | None:
    """Of each thing that differs at some rest, the fewest steps to it; None beyond the limit."""
    circuit = pair.circuit
    seen = observed(pair, between)
    together = [
        (a + pair.old.add.elements, b + pair.new.add.elements) for a, b in between.elements.items()
    ]
    found: dict[str, int] = {}
    level, known, depth = [start(circuit)], {start(circuit)}, 0
    while level:
        for state in level:
            if at_rest(circuit, state):
                for one in seen:
                    if holds_some(circuit, state, one.instances[0].condition):
                        found.setdefault(one.name, depth)
        following: dict[State, None] = {}
        for state in level:
            calm = at_rest(circuit, state)
            for step in successors(circuit, state):
                after = step.state
                event = bool(step.acting) or (after.hands, after.settings) != (
                    state.hands,
                    state.settings,
                )
                if event and not (calm and _alike(state, after, together)):
                    continue
                if after not in known:
                    known.add(after)
                    following[after] = None
        if len(known) > MOST_STATES:
            return None
        level, depth = list(following), depth + 1
    return found


def _alike(state: State, after: State, together: list[tuple[int, int]]) -> bool:
    then, now = state.positions, after.positions
    return all(now[a] == now[b] for a, b in together if then[a] == then[b])


def main() -> int:
    parser = argparse.ArgumentParser(prog="tests.agreement.abreast")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--count", type=int, default=200)
    options = parser.parse_args()
    said: Counter[str] = Counter()
    for number in range(options.seed, options.seed + options.count):
        said[compare_abreast(circuit_of(number), number)] += 1
    for what, count in sorted(said.items()):
        print(f"{count:6}  {what}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
