"""Runs in which hands and surroundings change at rest only, as written down, against explicit
search with the simulator."""

from __future__ import annotations

from random import Random

import pytest

from tests.agreement.circuits import circuit_of
from verifier.engines.engine import Budget
from verifier.engines.registry import ENGINES
from verifier.evidence.certificate import certify
from verifier.model.circuit import Circuit
from verifier.model.condition import At, Condition, Not
from verifier.model.run import State
from verifier.simulation.movement import at_rest, holds_some
from verifier.simulation.replay import replay
from verifier.simulation.steps import start, successors
from verifier.transition.compile import compile_circuit
from verifier.transition.decode import run_of
from verifier.transition.sequences import Change, prescribed
from verifier.transition.system import Proved, Reached

MOST = 4_000


def drawn(circuit: Circuit, random: Random) -> list[Change]:
    """What is done on a random walk: so it can be done, though perhaps not at rest."""
    changes = []
    state = start(circuit)
    for _ in range(30):
        step = random.choice(list(successors(circuit, state)))
        after = step.state
        if step.acting or (after.hands, after.settings) != (state.hands, state.settings):
            changes.append(Change(after.hands, after.settings, step.acting))
        state = after
        if len(changes) == 2:
            break
    return changes


def ends(circuit: Circuit, changes: list[Change]) -> set[State] | None:
    """The states at rest after all changes, each made at rest; None beyond the limit."""
    level = {(start(circuit), 0)}
    known = set(level)
    while level:
        following = set()
        for state, done in level:
            for step in successors(circuit, state):
                after = step.state
                does = Change(after.hands, after.settings, step.acting)
                still = Change(state.hands, state.settings, ())
                if does == still:
                    following.add((after, done))
                elif done < len(changes) and does == changes[done] and at_rest(circuit, state):
                    following.add((after, done + 1))
        level = following - known
        known |= level
        if len(known) > MOST:
            return None
    return {state for state, done in known if done == len(changes) and at_rest(circuit, state)}


@pytest.mark.parametrize("number", range(5_000, 5_025))
def test_written_changes_against_explicit_search(number: int) -> None:
    random = Random(number)
    circuit = circuit_of(number)
    changes = drawn(circuit, random)
    element = random.randrange(len(circuit.elements))
    condition: Condition = At(
        element, (random.randrange(len(circuit.elements[element].positions)),)
    )
    if random.random() < 0.3:
        condition = Not(condition)
    states = ends(circuit, changes)
    assert states is not None, "choose a smaller circuit"
    compiled = compile_circuit(circuit)
    system, goal = prescribed(compiled, changes, condition, "as written")
    finding = ENGINES["directed"].search(system, goal, Budget(conflicts=200_000, depth=100))
    if any(holds_some(circuit, state, condition) for state in states):
        assert isinstance(finding, Reached)
        run = run_of(compiled, finding)
        replay(circuit, run)
        assert run.states[-1] in states
    else:
        assert isinstance(finding, Proved)
        certify(system, goal, finding)
