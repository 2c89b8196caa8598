"""The sequence A+ B+ B- A- by direct wiring and by cascade.

Sources: the sequence and its signal conflicts, published lectures on cascade circuits; the
cascade's equations, the textbook method (SetI = gII a0 start, SetII = gI b1; A14 = gI, B14 = gI a1,
B12 = gII, A12 = gII b0); list of conflicts and trace, derived for this project.
"""

from __future__ import annotations

from tests.outside.outcomes import (
    circuit_named,
    explored,
    hold,
    onward,
    position,
    reachable,
    resting,
    verdicts,
)
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.movement import at_rest, demanded
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import start

TRACE = ["A+", "B+", "B-", "A-"]
EVENTS = {
    ("a", "between", "out"): "A+",
    ("a", "between", "home"): "A-",
    ("b", "between", "out"): "B+",
    ("b", "between", "home"): "B-",
}


def test_direct_wiring_is_dead_at_step_1() -> None:
    assert verdicts("direct_from_rest") == {"A leaves home": "holds", "B leaves home": "holds"}
    circuit = circuit_named("direct_from_rest")
    ends = resting(circuit, hold(circuit, start(circuit), "start.pushed"))
    assert {conflict(circuit, end, "va") for end in ends} == {True}


def test_direct_wiring_is_dead_at_step_3() -> None:
    assert verdicts("direct_from_step_3") == {"B leaves its end": "holds"}
    circuit = circuit_named("direct_from_step_3")
    assert {conflict(circuit, end, "vb") for end in resting(circuit, start(circuit))} == {True}


def conflict(circuit: Circuit, state: State, valve: str) -> bool:
    """Both pilots of a valve have air."""
    found = pressures(circuit, state)
    ports = [p for p in circuit.ports if p.name in (f"{valve}.14", f"{valve}.12")]
    return len(ports) == 2 and all(found.can_high[port.volume] for port in ports)


def test_cascade_has_no_conflict() -> None:
    found = verdicts("cascade")
    assert len(found) == 3
    assert set(found.values()) == {"holds"}


def events(circuit: Circuit, before: State, after: State) -> list[str]:
    found = []
    for cylinder in ("a", "b"):
        old, new = (position(circuit, s, f"{cylinder}.piston") for s in (before, after))
        if old != new and new != "between":
            found.append(EVENTS[cylinder, old, new])
    return found


def test_cascade_runs_through_its_trace() -> None:
    """With the start button held, whatever the delays: each event is followed by the next one only,
    and the sequence never comes to rest."""
    circuit = circuit_named("cascade")
    first = (hold(circuit, start(circuit), "start.pushed"), 0)
    found, waiting, done = {first}, [first], set()
    while waiting:
        state, phase = waiting.pop()
        assert not at_rest(circuit, state)
        for there in onward(circuit, state):
            now = phase
            for event in events(circuit, state, there):
                assert event == TRACE[now]
                done.add(event)
                now = (now + 1) % len(TRACE)
            if (there, now) not in found:
                found.add((there, now))
                waiting.append((there, now))
    assert done == set(TRACE)


def test_cascade_stops_at_home_without_start() -> None:
    """From every reachable state, once the button is let go and air is there."""
    circuit = circuit_named("cascade")
    present = [s.name for s in circuit.switches].index("air")
    stops = {
        (position(circuit, end, "a.piston"), position(circuit, end, "b.piston"))
        for state in explored("cascade").states
        if not any(state.hands)
        and circuit.switches[present].values[state.settings[present]] == "present"
        for end in resting(circuit, state)
    }
    assert stops == {("home", "home")}
    begun = reachable(circuit, hold(circuit, start(circuit), "start.pushed"))
    assert any(position(circuit, state, "b.piston") == "out" for state in begun)


def test_group_valve_is_the_only_memory_between_groups() -> None:
    """Two groups, one valve: its pilots never ask for both positions at once."""
    circuit = circuit_named("cascade")
    (group,) = [n for n, e in enumerate(circuit.elements) if e.name == "group.spool"]
    for state in explored("cascade").states:
        assert len(demanded(circuit, state, pressures(circuit, state), group, ())) == 1
