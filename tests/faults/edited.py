"""A circuit in which a fault has struck, beside one that somebody has built so.

What can be seen of a state: where elements, hands and switches stand, what every port reads, and
whether liquid can pass.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import structs

from verifier.model.circuit import Circuit
from verifier.model.condition import Path
from verifier.model.load import load_text
from verifier.model.run import State
from verifier.model.strikes import Strike, every_strike
from verifier.model.weaving import Woven, weave
from verifier.model.wellformed import check
from verifier.simulation.explore import Exploration
from verifier.simulation.movement import holds_some
from verifier.simulation.pressures import pressures

View = tuple[tuple[str, object], ...]


def strike_of(circuit: Circuit, name: str) -> Strike:
    return next(one for one in every_strike(circuit) if one.name == name)


def woven_of(text: str, *names: str, most: int | None = None) -> tuple[Circuit, Woven]:
    circuit = load_text(text).circuit
    woven = weave(circuit, [strike_of(circuit, name) for name in names], most)
    check(woven.circuit)
    return circuit, woven


def struck(woven: Woven) -> Circuit:
    """All faults have struck before anything else happens."""
    elements = list(woven.circuit.elements)
    for number in woven.elements:
        elements[number] = structs.replace(elements[number], start=1)
    return structs.replace(woven.circuit, elements=tuple(elements))


def views(circuit: Circuit, like: Circuit, states: Iterable[State] | None = None) -> set[View]:
    """What can be seen of its states, all that are reachable if none are given, of the things that
    the circuit `like` has too."""
    if states is None:
        exploration = Exploration(circuit)
        assert exploration.complete
        states = exploration.states
    return {view(circuit, like, state) for state in states}


def view(circuit: Circuit, like: Circuit, state: State) -> View:
    air = pressures(circuit, state)
    known = {one.name for one in (*like.elements, *like.hands, *like.switches, *like.ports)}
    seen: list[tuple[str, object]] = [
        (one.name, one.positions[at])
        for one, at in zip(circuit.elements, state.positions, strict=True)
    ]
    seen += [(one.name, on) for one, on in zip(circuit.hands, state.hands, strict=True)]
    seen += [
        (one.name, one.values[at]) for one, at in zip(circuit.switches, state.settings, strict=True)
    ]
    seen += [(p.name, (air.can_high[p.volume], air.can_low[p.volume])) for p in circuit.ports]
    seen = [one for one in seen if one[0] in known]
    for number, network in enumerate(circuit.networks):
        places = [network.places.index(name) for name in ("tank", "header")]
        open_ = holds_some(circuit, state, Path(number, places[0], places[1], True))
        seen.append((f"{network.medium} passes", open_))
    return tuple(sorted(seen))
