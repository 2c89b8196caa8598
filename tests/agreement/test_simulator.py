"""The simulator against itself on random circuits: what is enumerated is what is allowed."""

from __future__ import annotations

from collections import Counter
from itertools import product
from random import Random

import pytest
from hypothesis import given, settings

from tests.agreement.circuits import circuit_of, circuits
from tests.agreement.coverage import features
from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.simulation.cause import cause
from verifier.simulation.checking import check_state, check_step
from verifier.simulation.explore import Exploration
from verifier.simulation.judging import violation
from verifier.simulation.movement import at_rest, must_move
from verifier.simulation.pressures import pressures
from verifier.simulation.replay import replay
from verifier.simulation.rest import comes_to_rest
from verifier.simulation.steps import canonical, start, successors


def every_state(circuit: Circuit) -> list[State]:
    """All tuples of the right shape, allowed or not."""
    return [
        State(positions, hands, switches, memory)
        for positions in product(*(range(len(e.positions)) for e in circuit.elements))
        for hands in product(*((False, True) for _ in circuit.hands))
        for switches in product(*(range(len(s.values)) for s in circuit.switches))
        for memory in product(*((False, True) for _ in circuit.volumes))
    ]


@pytest.mark.parametrize("seed", [4, 5, 6, 7, 12, 15, 22, 25, 37, 39])
def test_steps_listed_are_the_steps_allowed(seed: int) -> None:
    """`successors` builds steps from the rules, `check_step` judges any step by them."""
    circuit = circuit_of(seed)
    universe = every_state(circuit)[:40_000]
    momentary = [i for i, hand in enumerate(circuit.hands) if not hand.held]
    acts = [
        tuple(hand for hand, on in zip(momentary, chosen, strict=True) if on)
        for chosen in product((False, True), repeat=len(momentary))
    ]
    random = Random(seed)
    reachable = Exploration(circuit).states
    for before in random.sample(reachable, min(3, len(reachable))):
        listed = list(successors(circuit, before))
        assert len(set(map(repr, listed))) == len(listed)
        assert all(not check_step(circuit, before, step) for step in listed)
        inside = set(universe)
        allowed = {
            (acting, state)
            for acting in acts
            for state in random.sample(universe, min(1_500, len(universe)))
            if not check_step(circuit, before, Step(acting, state))
        }
        assert allowed <= {(step.acting, step.state) for step in listed}
        assert all(state in inside for _, state in allowed)


@settings(max_examples=40)
@given(circuits())
def test_explored_states_runs_and_causes(circuit: Circuit) -> None:
    exploration = Exploration(circuit, limit=400)
    assert start(circuit) in exploration.states
    for state in exploration.states[:60]:
        assert canonical(circuit, state) == state
        assert check_state(circuit, state) == ()
        air = pressures(circuit, state)
        assert all(h or low for h, low in zip(air.can_high, air.can_low, strict=True))
        assert all(not (c and t) for c, t in zip(air.contested, air.trapped, strict=True))
    last = exploration.states[-1]
    run = exploration.run_to(last)
    replay(circuit, run)
    assert run.states[-1] == last
    for before, step in zip(run.states, run.steps, strict=False):
        for element in range(len(circuit.elements)):
            if before.positions[element] != step.state.positions[element]:
                assert cause(circuit, before, step, element)


@settings(max_examples=40)
@given(circuits())
def test_answers_carry_runs_that_show_them(circuit: Circuit) -> None:
    exploration = Exploration(circuit, limit=400)
    for property in circuit.properties:
        for instance in property.instances:
            answer = exploration.answer(property, instance)
            shown = answer.truth == ("holds" if property.form == "possible" else "violated")
            if answer.run is None:
                assert not shown or property.form == "possible" or not exploration.complete
                continue
            assert shown
            replay(circuit, answer.run)
            assert violation(circuit, property, instance, answer.run)
            assert answer.costs is not None
            assert len(answer.run.steps) == answer.costs[0]
            shorter = Run(answer.run.start, answer.run.steps[:-1], answer.run.procedure_from)
            if property.form != "recovers" and answer.run.steps:
                assert not violation(circuit, property, instance, shorter)


@settings(max_examples=40)
@given(circuits())
def test_loops_have_no_rest_and_starve_nobody(circuit: Circuit) -> None:
    answer = comes_to_rest(Exploration(circuit, limit=400))
    for state in answer.loop:
        assert not at_rest(circuit, state)
        assert (state.hands, state.settings) == (answer.loop[0].hands, answer.loop[0].settings)
    for element in range(len(circuit.elements) if answer.loop else 0):
        stood = {state.positions[element] for state in answer.loop}
        waits = all(must_move(circuit, state, element) for state in answer.loop)
        assert len(stood) > 1 or not waits


def test_random_circuits_are_interesting() -> None:
    """Each thing of interest occurs in a fair share of them; else the other tests show little."""
    counted: Counter[str] = Counter()
    for seed in range(100):
        circuit = circuit_of(seed)
        counted.update(features(circuit, Exploration(circuit, limit=1_000)))
    wanted = {
        "contested": 30,
        "trapped with air": 20,
        "trapped and in-between": 4,
        "driven through a restriction only": 5,
        "three positions": 30,
        "one-way passage": 15,
        "assumption": 15,
        "more than three positions visited": 40,
        "comes to rest: violated": 3,
        "no contest: holds": 20,
        "no contest: violated": 20,
        "possible: holds": 20,
        "possible: violated": 20,
        "steps: 3": 8,
        "steps: 4": 2,
    }
    for form in ("never", "always", "order"):
        wanted |= {f"{form}: {truth}": 8 for truth in ("holds", "violated", "vacuous")}
    wanted |= {"recovers: holds": 10, "recovers: violated": 10}
    scarce = {
        name: (counted[name], least) for name, least in wanted.items() if counted[name] < least
    }
    assert scarce == {}
