"""Carrying runs out: what the simulator does, how expectations fail, and that nothing is lost."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.agreement.circuits import circuit_of
from tests.agreement.faults import valid
from tests.agreement.faults import woven_of as random_woven
from verifier import load, load_text
from verifier.diagnostics.diagnostic import SourceError
from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.runs.play import Played, Player, groups, play
from verifier.runs.read import read_run
from verifier.runs.record import recorded
from verifier.runs.script import Script
from verifier.runs.write import script_text
from verifier.simulation.checking import check_step
from verifier.simulation.movement import at_rest, next_positions
from verifier.simulation.pressures import driven, pressures
from verifier.simulation.replay import replay
from verifier.simulation.steps import start

ROOT = Path(__file__).resolve().parents[2]
HERON = load(ROOT / "specs" / "heron" / "heron.ilk").circuit


def carried_out(text: str, circuit: Circuit = HERON, order: Random | None = None) -> Played:
    return play(circuit, read_run(text), order)


def random_run(circuit: Circuit, random: Random, most: int) -> Run:
    """Any steps that the rules allow, as the simulator judges them."""
    begin = state = start(circuit)
    steps: list[Step] = []
    for _ in range(most):
        step = random_step(circuit, state, random)
        if not check_step(circuit, state, step) and (step.acting or step.state != state):
            steps.append(step)
            state = step.state
    return Run(begin, tuple(steps))


def random_step(circuit: Circuit, state: State, random: Random) -> Step:
    """Perhaps not allowed, for what assumptions and whole tubes exclude."""
    air = pressures(circuit, state)
    momentary = [k for k, hand in enumerate(circuit.hands) if not hand.held]
    acting = tuple(k for k in momentary if random.random() < 0.2)
    positions = tuple(
        random.choice(next_positions(circuit, state, air, k, acting))
        for k in range(len(circuit.elements))
    )
    hands = tuple(
        on != (hand.held and random.random() < 0.2)
        for hand, on in zip(circuit.hands, state.hands, strict=True)
    )
    settings = tuple(
        random.randrange(len(one.values)) if random.random() < 0.3 else now
        for one, now in zip(circuit.switches, state.settings, strict=True)
    )
    trapped = driven(circuit, positions, settings).trapped
    memory = tuple(
        t and high and (not (low or cut) or random.random() < 0.7)
        for t, high, low, cut in zip(trapped, air.can_high, air.can_low, air.trapped, strict=True)
    )
    return Step(acting, State(positions, hands, settings, memory))


@pytest.mark.parametrize("seed", range(40))
def test_a_recorded_run_is_carried_out_step_by_step(seed: int) -> None:
    """Written down and read again, it is the very same run, for whatever the rules allow."""
    circuit = circuit_of(seed)
    run = random_run(circuit, Random(seed), 25)
    assert len(run.steps) > 1
    replay(circuit, run)
    script = Script("at random", circuit.name, None, recorded(circuit, run))
    again = play(circuit, read_run(script_text(script)))
    assert again.problems == ()
    assert again.run == run


@pytest.mark.parametrize("seed", range(9))
def test_faults_that_strike_are_recorded_too(seed: int) -> None:
    """By the same player: in a circuit that has the faults woven in already."""
    woven = random_woven(seed)
    if not valid(woven.circuit):
        return
    run = random_run(woven.circuit, Random(seed), 8)
    player = Player(woven.circuit)
    for group in groups(read_run(script_text(Script(lines=recorded(woven.circuit, run)))).lines):
        player.do(group)
    assert player.run() == run


OPENING = """
connect tractor
wait
pull master
wait
expect vent[3] open
expect lamp showing
expect air in back
pull pick[1]
turn open cock[1]
wait
expect foot[1] open
expect flow from tank[1] to coupling[1]
expect vapour from tank[1] to sky
expect "each compartment can discharge" reached for i = 1
expect "each compartment can discharge" not reached for i = 2
expect "discharge with a vent shut" kept
push stop
wait
expect foot[1] shut
expect no flow from tank[1] to coupling[1]
expect stop pressed
expect at rest
pull stop
wait
expect master in
expect stop not pressed
"""


@pytest.mark.parametrize("order", [None, *range(6)])
def test_a_compartment_is_opened_and_the_stop_shuts_it(order: int | None) -> None:
    found = carried_out(OPENING, order=None if order is None else Random(order))
    assert found.problems == ()
    assert at_rest(found.circuit, found.run.states[-1])


def test_orders_differ_and_come_to_the_same_rest() -> None:
    runs = [carried_out(OPENING, order=Random(k)).run for k in range(4)]
    assert len(set(runs)) > 1
    assert len({run.states[-1] for run in runs}) == 1


@pytest.mark.parametrize(
    ("expected", "told", "why"),
    [
        ("foot[1] open", "foot[1] stands shut", "line lift[1] exhausts through pick[1] 2 to 3"),
        ("air in lift[1]", "there is no air in lift[1]", "exhausts through pick[1] 2 to 3"),
        ("no air in rise", "there is air in rise", "fed by tractor through master 1 to 4"),
        ("lamp hidden", "lamp stands showing", "line back is fed by tractor"),
        ("tractor absent", "tractor is present", ""),
        ("stop pressed", "stop stands released", "it is not pushed by hand"),
        ("not at rest", "everything is at rest", ""),
        (
            "flow from tank[1] to coupling[1]",
            "there is no flow from tank[1] to coupling[1]",
            "shut on the way: foot[1] shut, cock[1] shut",
        ),
        ('"the indicator shows with a vent shut" broken', "not broken", ""),
        ("air blowing out of pick[1].3", "no air blows out of pick[1].3", ""),
    ],
)
def test_what_is_not_as_expected_is_told_with_its_cause(expected: str, told: str, why: str) -> None:
    found = carried_out(f"connect tractor\npull master\nwait\nexpect {expected}\nwait\n")
    (problem,) = found.problems
    assert problem.code == "E1012"
    assert problem.span.line == 4
    assert told in problem.message
    assert why in problem.message
    assert len(found.at) == 5  # what comes after an expectation is still carried out


@pytest.mark.parametrize(
    ("text", "code", "told", "hint"),
    [
        ("pull mastr", "E1006", "there is no part or supply `mastr`", "did you mean `master`?"),
        ("pull vent[1]", "E1007", "it has no hand control", "by hand one works stop, master"),
        ("open stop", "E1007", "nobody can open `stop`", "say `push stop` or `pull stop`"),
        ("weaken tractor", "E1007", "is never weak", "it is `present` or `absent`"),
        ("push tractor", "E1007", "nobody can push the supply", "say `connect tractor`"),
        ("expect vent[9] open", "E1006", "`vent[9]`", ""),
        ("expect vent[1] up", "E1007", "has no position `up`", "it has `shut` and `open`"),
        ("expect air in lift", "E1006", "no line or port `lift`", "there are lift[1], lift[2]"),
        ("expect flow from tank[1] to skye", "E1006", "no place `skye`", ""),
        ('expect "safe" broken', "E1010", 'no property "safe"', ""),
        ('expect "no race" broken', "E1010", "cannot be told from one run", "`shutproof prove`"),
        ('expect "discharge with a vent shut" reached', "E1010", "a *never*", ""),
        (
            'expect "discharge with a vent shut" broken for i = 9',
            "E1010",
            "has no case `i = 9`",
            "",
        ),
        ("strike foot[1] stick", "E1009", "no fault `foot[1] stick`", "did you mean"),
        ("design gannet\nwait", "E1005", "this run is of `gannet`, not of `heron`", ""),
        ("wrong stop.1 and master.1 swapped\nwait", "E1008", "ports of different parts", ""),
        ("wrong master.1 and master.hold swapped\nwait", "E1008", "makes no difference", ""),
        ("wrong tube air left off\nwait", "E1008", "there is no tube `air`", "its tubes are air"),
        ("expect air blowing out of vent[1].in", "E1007", "it is on a line", ""),
        ("set tractor to loud", "E1007", "is never loud", ""),
    ],
)
def test_names_are_looked_up_with_near_misses(text: str, code: str, told: str, hint: str) -> None:
    with pytest.raises(SourceError) as refusal:
        carried_out(text)
    first = refusal.value.diagnostics[0]
    assert first.code == code
    assert told in first.message
    assert hint in first.hint


@pytest.mark.parametrize(
    ("text", "told", "hint"),
    [
        ("move vent[1] to open", "vent[1] stands shut and cannot go to open now", "has no air"),
        ("move vent[1] to shut", "vent[1] stands shut already", ""),
        ("leak back", "back is not cut off", ""),
        ("pull master\nand pull master", "twice in one moment", ""),
    ],
)
def test_what_cannot_happen_ends_the_run(text: str, told: str, hint: str) -> None:
    found = carried_out(f"{text}\nwait\n")
    (problem,) = found.problems
    assert problem.code == "E1011"
    assert told in problem.message
    assert hint in problem.hint


def test_a_hand_that_acts_too_briefly_moves_nothing() -> None:
    found = carried_out("connect tractor\npull master briefly\nwait\nexpect master in\n")
    assert found.problems == ()
    assert [step.acting for step in found.run.steps][1] != ()


def test_a_circuit_that_does_not_rest_is_told() -> None:
    loop = load_text(
        "design ring\nuse standard\nsupply tractor starts present\n"
        "kind inverter\n  ports in, out\n  exhausts gone\n  element gate: lets, stops\n"
        "    in lets passes in-out\n    in stops passes out-gone\n    to stops when high(out)\n"
        "    otherwise to lets\nend\npart one: inverter\nline air: tractor, one.in\n"
        'plug one.out\nruns on because "it is made to"\n'
        'possible "it stops": one is stops\n'
    ).circuit
    found = carried_out("wait", loop)
    assert [one.code for one in found.problems] == ["E1013"]
