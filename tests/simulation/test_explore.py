"""Verdicts, lengths and runs of small circuits worked out on paper."""

from __future__ import annotations

import pytest

from tests.simulation.bench import Bench, Form, demand, high
from verifier.model.circuit import Circuit, Property, Setpoint, Way, Where
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    AtRest,
    Condition,
    Hand,
    Not,
    Path,
    Setting,
)
from verifier.model.run import Run
from verifier.simulation.explore import Answer, Exploration, resting_states
from verifier.simulation.judging import trigger_reached, violation
from verifier.simulation.replay import replay


def ask(circuit: Circuit, property: Property) -> Answer:
    """The answer; a run that comes with it replays and shows what it should."""
    answer = Exploration(circuit).answer(property, property.instances[0])
    if answer.run is not None:
        replay(circuit, answer.run)
        assert violation(circuit, property, property.instances[0], answer.run)
    return answer


def lifted() -> Circuit:
    """A button passes air to the lift line of a foot valve; released, it exhausts the line. The
    supply starts absent. Elements: button 0, foot 1. The foot lets liquid out of the tank."""
    bench = Bench()
    air, lift, sky = bench.supply("air", "absent"), bench.line("lift"), bench.atmosphere()
    pushed = bench.hand("pushed", held=True)
    button = bench.element("button", ("released", "pressed"), (1, Hand(pushed)), otherwise=0)
    foot = bench.element("foot", ("shut", "open"), (1, high(lift, "foot.pilot")), otherwise=0)
    bench.passage(air, lift, (button, (1,)))
    bench.passage(lift, sky, (button, (0,)))
    bench.assume("the supply is not weak", Not(Setting(0, (2,))))
    bench.places = ("tank", "coupling")
    bench.ways = [Way(None, 0, 1, False, (Where(foot, (1,)),))]
    return bench.circuit()


FLOW = Path(0, 0, 1, True)
PRESSED, OPEN, AIR, PUSHED = At(0, (1,)), At(1, (1,)), Setting(0, (0,)), Hand(0)


def test_the_shortest_way_to_a_flow_is_push_then_button_then_foot() -> None:
    """Step 1: push (and air comes). Step 2: the button goes. Step 3: the foot opens."""
    answer = ask(lifted(), demand("possible", FLOW))
    assert answer.truth == "holds"
    assert answer.costs == (3, 2, 1, 2)
    assert answer.run is not None
    assert [s.positions for s in answer.run.states] == [(0, 0), (0, 0), (1, 0), (1, 1)]


@pytest.mark.parametrize(
    ("form", "condition", "moment", "truth", "steps"),
    [
        # While the foot answers to the lift air, the air may fail or the hand let go.
        ("never", All((OPEN, Not(AIR))), "every_moment", "violated", 3),
        ("never", All((OPEN, Not(AIR))), "at_rest", "holds", None),
        ("always", Any((Not(OPEN), PUSHED)), "every_moment", "violated", 3),
        ("always", Any((Not(OPEN), PUSHED)), "at_rest", "holds", None),
        # The hand lets go while the button goes in; the button then returns while the foot opens.
        ("always", Any((PRESSED, Not(OPEN))), "every_moment", "violated", 3),
        ("possible", All((OPEN, Not(PUSHED))), "at_rest", "violated", None),
        ("possible", All((OPEN, Not(PUSHED))), "every_moment", "holds", 3),
        ("never", Always(False), "every_moment", "holds", None),
        ("possible", AtRest(), "every_moment", "holds", 0),
    ],
)
def test_verdicts(
    form: Form, condition: Condition, moment: str, truth: str, steps: int | None
) -> None:
    rest = moment == "at_rest"
    answer = ask(lifted(), demand(form, condition, "at_rest" if rest else "every_moment"))
    assert answer.truth == truth
    assert (len(answer.run.steps) if answer.run is not None else None) == steps


def test_a_trigger_that_never_comes_makes_a_property_vacuous() -> None:
    bench = Bench()
    bench.element("stuck", ("shut", "open"))
    circuit = bench.circuit()
    opened = At(0, (1,))
    prop = demand("always", Any((Not(opened), Always(False))), triggers=(opened,))
    assert ask(circuit, prop).truth == "vacuous"
    assert ask(circuit, demand("never", opened)).truth == "holds"


def test_a_trigger_counts_at_the_moments_of_its_property_and_under_every_reading() -> None:
    circuit = lifted()
    moving = All((OPEN, Not(PUSHED)))
    for moment, truth in (("every_moment", "holds"), ("at_rest", "vacuous")):
        rest = "at_rest" if moment == "at_rest" else "every_moment"
        prop = demand("never", Always(False), rest, triggers=(moving,))  # type: ignore[arg-type]
        assert ask(circuit, prop).truth == truth
    weak = Bench()
    air = weak.supply("air", "weak")
    weak.assume("always weak", Setting(0, (2,)))
    reads = high(air, "line air")
    prop = demand("never", Always(False), triggers=(reads,))
    assert ask(weak.circuit(), prop).truth == "vacuous"
    start = Run(Exploration(weak.circuit()).states[0], ())
    assert not trigger_reached(weak.circuit(), prop, prop.instances[0], 0, start)


def test_an_order_wants_the_first_thing_before_and_still() -> None:
    circuit = lifted()
    # The button returns while the foot opens, as above: air, push, let go; button, button, foot.
    assert ask(circuit, demand("order", OPEN, first=PRESSED)).costs == (3, 3, 1, 3)
    # Pushed again at once, it goes in once more and all rests; but it was out with the foot open.
    assert ask(circuit, demand("order", OPEN, "at_rest", first=PRESSED)).costs == (4, 4, 1, 4)
    # The button goes in as the hand lets go.
    assert ask(circuit, demand("order", PRESSED, first=PUSHED)).costs == (2, 2, 0, 1)
    assert ask(circuit, demand("order", PRESSED, "at_rest", first=PUSHED)).costs == (3, 3, 0, 1)
    # The foot never opens in a circuit that had no air the moment before.
    had_air = Any((AIR, OPEN))
    assert ask(circuit, demand("order", OPEN, first=had_air)).truth == "holds"
    # Things that come in the same step are in no order.
    assert ask(circuit, demand("order", AIR, first=PUSHED)).costs == (1, 1, 1, 0)
    assert ask(circuit, demand("order", AIR, first=Not(PUSHED))).costs == (1, 2, 1, 0)
    assert ask(circuit, demand("order", AIR, first=AIR)).costs == (1, 1, 1, 0)


def test_recovery_by_letting_go_of_the_button() -> None:
    circuit = lifted()
    let_go = (Setpoint(0, None, 0, "let go"),)
    push = (Setpoint(0, None, 1, "push"),)
    air_comes = (Setpoint(None, 0, 0, "air"), *push)
    assert ask(circuit, demand("recovers", Not(OPEN), "at_rest", procedure=let_go)).truth == "holds"
    answer = ask(circuit, demand("recovers", Not(OPEN), "at_rest", procedure=air_comes))
    # Air and push may be there before the procedure begins; then button and foot go in its first
    # phase, which waits for rest, and the others take no step.
    assert answer.truth == "violated"
    assert answer.costs == (3, 2, 1, 2)
    assert answer.run is not None
    assert answer.run.procedure_from == 0 or answer.run.procedure_from == 1
    assert ask(circuit, demand("recovers", OPEN, "at_rest", procedure=air_comes)).truth == "holds"


def test_a_momentary_hand_acts_for_the_whole_of_its_phase() -> None:
    """A three-position spool needs two steps to come home; one short push is enough for none."""
    bench = Bench()
    pushed, pulled = bench.hand("pushed"), bench.hand("pulled")
    bench.element("spool", ("in", "middle", "out"), (0, Hand(pushed)), (2, Hand(pulled)))
    circuit = bench.circuit()
    home = demand("recovers", At(0, (0,)), "at_rest", procedure=(Setpoint(pushed, None, 1, ""),))
    assert ask(circuit, home).truth == "holds"
    no_push = demand("recovers", At(0, (0,)), "at_rest", procedure=(Setpoint(pushed, None, 0, ""),))
    assert ask(circuit, no_push).costs == (1, 1, 0, 1)


def test_a_fight_is_found_and_a_weak_supply_is_no_fight() -> None:
    bench = Bench()
    air, line, sky = bench.supply("air", "absent"), bench.line("tee"), bench.atmosphere()
    bench.passage(air, line)
    bench.passage(line, sky)
    assert Exploration(bench.circuit()).contest().costs == (1, 1, 1, 0)
    bench.assume("present never", Not(Setting(0, (0,))))
    assert Exploration(bench.circuit()).contest().truth == "holds"


def test_the_state_space_of_a_latch() -> None:
    """Two detents set and reset one after the other: all four positions are reachable, all rest."""
    bench = Bench()
    for name in ("a", "b"):
        bench.element(
            name,
            ("in", "out"),
            (0, Hand(bench.hand(f"{name} pushed"))),
            (1, Hand(bench.hand(f"{name} pulled"))),
        )
    found = resting_states(bench.circuit())
    assert sorted(state.positions for state in found) == [(0, 0), (0, 1), (1, 0), (1, 1)]


def test_too_many_states_are_inconclusive_but_a_run_found_counts() -> None:
    circuit = lifted()
    few = Exploration(circuit, limit=3)
    assert not few.complete
    assert few.answer(demand("never", FLOW), demand("never", FLOW).instances[0]).truth == (
        "inconclusive"
    )
    never_air = demand("never", AIR)
    assert few.answer(never_air, never_air.instances[0]).truth == "violated"
    with pytest.raises(ValueError, match="more than 3 states"):
        resting_states(circuit, limit=3)
