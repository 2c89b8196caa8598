"""One thing looked at: where it stands and why, how it is worked, what may fail of it."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.model.circuit import Circuit, moving
from verifier.model.mistakes import did_you_mean
from verifier.model.run import State, Step
from verifier.model.strikes import every_strike
from verifier.report.families import families
from verifier.runs.facts import Misread
from verifier.runs.names import Names
from verifier.runs.script import NOWHERE
from verifier.runs.verbs import RELEASE, SUPPLY, verb_of
from verifier.simulation.air import air_of
from verifier.simulation.cause import air_words, cause, why_it_stands
from verifier.simulation.events import Change, state_after
from verifier.simulation.movement import must_move, next_positions
from verifier.simulation.pressures import pressures
from verifier.studies.names import element_name, spoken


def looked_at(names: Names, state: State, name: str) -> Iterator[str]:
    """Of a part: its elements, its ports and what they read; of a line or port its air. Raises
    Misread for what the circuit does not have."""
    circuit = names.circuit
    if name in names.parts:
        part = circuit.parts[names.parts[name]]
        about = "; ".join(one for one in (part.doc, part.kind_doc) if one)
        yield f"{name}: {about}" if about else name
        for element in moving(circuit, names.parts[name]):
            yield _element(circuit, state, element)
        for port in part.ports:
            found = air_of(circuit, state, circuit.ports[port].volume)
            yield f"{circuit.ports[port].label}: {found.volume} {air_words(found)}"
        return
    if name in names.supplies or name in names.switches:
        switch = names.switch(name, NOWHERE)
        yield f"{name} is {spoken(circuit.switches[switch].values[state.settings[switch]])}"
        return
    if name in names.elements:
        yield _element(circuit, state, names.elements[name])
        return
    if name not in names.lines and name not in names.ports and name not in names.volumes:
        known = (*names.parts, *names.supplies, *names.switches, *names.lines, *names.ports)
        raise Misread(
            "E1006", NOWHERE, f"nothing is called `{name}`", hint=did_you_mean(name, known)
        )
    found = air_of(circuit, state, names.volume(name, NOWHERE))
    ports = [circuit.ports[one].name for one in circuit.volumes[names.volume(name, NOWHERE)].ports]
    yield f"{found.volume} {air_words(found)}"
    yield f"it joins {', '.join(families(ports))}"


def _element(circuit: Circuit, state: State, element: int) -> str:
    thing = circuit.elements[element]
    here = spoken(thing.positions[state.positions[element]])
    name = element_name(circuit, element)
    if not must_move(circuit, state, element):
        return f"{name} stands {here}: {why_it_stands(circuit, state, element)}"
    air = pressures(circuit, state)
    there = next_positions(circuit, state, air, element, ())[1]
    move = Change(0, "move", element, there)
    step = Step((), state_after(circuit, state, [move]))
    goes = spoken(thing.positions[there])
    return f"{name} stands {here} and must go to {goes}: {cause(circuit, state, step, element)}"


def ways_to_work(names: Names) -> Iterator[str]:
    """How everything is worked, members of a family together."""
    circuit = names.circuit
    said: list[str] = []
    for part in circuit.parts:
        for number in part.hands:
            hand = circuit.hands[number]
            verb = verb_of(hand.label)
            said.append(f"{verb} {part.name}" if verb else f"work {part.name} {hand.label}")
            said += [f"{RELEASE[0]} {part.name}"] if hand.held else []
    for supply in circuit.supplies:
        values = circuit.switches[supply.switch].values
        verbs = [verb for verb, value in SUPPLY.items() if value in values and verb != "fail"]
        said += [f"{verb} {supply.name}" for verb in verbs if len(values) > 1]
    fed = {supply.switch for supply in circuit.supplies}
    for number, switch in enumerate(circuit.switches):
        if number not in fed:
            said += [f"set {switch.name} to {value}" for value in switch.values]
    yield from families(dict.fromkeys(said))


def faults_like(circuit: Circuit, name: str) -> list[str]:
    """Faults of a part, tube, line or supply, or all whose names have the word in them."""
    words = name.split()
    found = [one for one in every_strike(circuit) if set(words) <= set(one.name.split())]
    if not found and name:
        found = [one for one in every_strike(circuit) if name in one.name]
    return [f"{one.name} ({one.words})" for one in found]
