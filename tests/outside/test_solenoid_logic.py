"""DOE-HDBK-1016/2-93 (public domain), module on engineering logic diagrams, example 2 and its
answers: a solenoid valve with a three-position switch, a safety signal and a seal-in.
"""

from __future__ import annotations

from itertools import product

from tests.outside.outcomes import (
    circuit_named,
    element,
    explored,
    gates,
    position,
    put,
    reachable,
    resting,
    setting,
    verdicts,
)
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.movement import demanded
from verifier.simulation.pressures import pressures

NAME = "solenoid_logic"


def test_every_answer_of_the_handbook_holds() -> None:
    found = verdicts(NAME)
    assert len(found) == 6
    assert set(found.values()) == {"holds"}


def test_the_solenoid_follows_its_equation() -> None:
    """sol = (OPEN or (AUTO and not safety and fully open)) and not CLOSE, wherever the valve is."""
    circuit = circuit_named(NAME)
    coil = element(circuit, "coil.output")
    values = set()
    for state in explored(NAME).states:
        handle, safety = setting(circuit, state, "handle"), setting(circuit, state, "safety")
        fully_open = position(circuit, state, "valve.disc") == "open"
        sealed = handle == "auto" and safety == "absent" and fully_open
        wanted = (handle == "open" or sealed) and handle != "close"
        assert demanded(circuit, state, pressures(circuit, state), coil, ()) == (int(wanted),)
        values.add((handle, safety, fully_open, wanted))
    assert len(values) == 3 * 2 * 2


def changes(circuit: Circuit, state: State) -> dict[str, State]:
    """The state after each single change of the switch or of the safety signal."""
    found = {}
    for name, value in product(
        ("handle", "safety"), ("auto", "open", "close", "absent", "present")
    ):
        switch = next(s for s in circuit.switches if s.name == name)
        if value in switch.values and setting(circuit, state, name) != value:
            found[f"{name} {value}"] = put(circuit, state, **{name: value})
    return found


def test_one_way_to_energise_two_ways_to_deenergise() -> None:
    circuit = circuit_named(NAME)
    energise, deenergise = set(), set()
    for state in explored(NAME).resting_states():
        if setting(circuit, state, "handle") != "auto":
            continue
        for words, changed in changes(circuit, state).items():
            before = gates(circuit, state, "coil")
            after = {gates(circuit, end, "coil") for end in resting(circuit, changed)}
            assert len(after) == 1
            if before == "0" and after == {"1"}:
                energise.add(words)
            if before == "1" and after == {"0"}:
                deenergise.add(words)
    assert energise == {"handle open"}
    assert deenergise == {"handle close", "safety present"}


def test_with_the_safety_signal_it_opens_but_does_not_stay_open() -> None:
    circuit = circuit_named(NAME)
    quiet = [
        state
        for state in explored(NAME).resting_states()
        if setting(circuit, state, "handle") == "auto"
        and setting(circuit, state, "safety") == "present"
    ]
    assert {position(circuit, state, "valve.disc") for state in quiet} == {"shut"}
    for state in quiet:
        pressed = put(circuit, state, handle="open")
        for opened in resting(circuit, pressed):
            assert position(circuit, opened, "valve.disc") == "open"
            released = put(circuit, opened, handle="auto")
            ends = resting(circuit, released)
            assert {position(circuit, end, "valve.disc") for end in ends} == {"shut"}
            assert any(
                position(circuit, there, "valve.disc") == "part_open"
                for there in reachable(circuit, released)
            )
