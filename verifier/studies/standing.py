"""Where everything stands in a state, for somebody who looks at the whole."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.model.woven_air import CHANCE
from verifier.report.families import families
from verifier.report.standing import Whole
from verifier.simulation.movement import at_rest
from verifier.simulation.plan import met
from verifier.simulation.pressures import pressures
from verifier.studies.names import element_name, line_names, spoken


def standing(circuit: Circuit, state: State) -> Whole:
    """All of it; faults only where they have struck."""
    air = pressures(circuit, state)
    volumes = range(len(circuit.volumes))
    high = [v for v in volumes if air.can_high[v] and not air.can_low[v]]
    out = [
        volume.name
        for v, volume in enumerate(circuit.volumes)
        if volume.open_air and air.can_high[v] and not volume.supplies and volume.name != CHANCE
    ]
    return Whole(
        stands=tuple(_stands(circuit, state)),
        air=line_names(circuit, high),
        no_air=line_names(circuit, (v for v in volumes if not air.can_high[v])),
        between=line_names(circuit, (v for v in volumes if air.either_way(v))),
        kept=line_names(circuit, (v for v in high if air.trapped[v])),
        out=tuple(out),
        flows=tuple(_flows(circuit, state)),
        at_rest=at_rest(circuit, state),
    )


def _stands(circuit: Circuit, state: State) -> Iterator[tuple[str, str]]:
    for switch, value in zip(circuit.switches, state.settings, strict=True):
        if len(switch.values) > 1:
            yield switch.name, spoken(switch.values[value])
    for hand, on in zip(circuit.hands, state.hands, strict=True):
        if on:
            yield circuit.parts[hand.part].name, f"held {spoken(hand.label)}"
    for index, element in enumerate(circuit.elements):
        position = state.positions[index]
        if element.fault and position:
            yield element.doc, "fault" if position == 1 else "fault, passed off"
        elif not element.fault:
            yield element_name(circuit, index), spoken(element.positions[position])


def _flows(circuit: Circuit, state: State) -> Iterator[str]:
    """Places that liquid or vapour can pass between now, together."""
    parts = {part.name for part in circuit.parts}
    for network in circuit.networks:
        group = list(range(len(network.places)))
        for way in network.ways:
            if met(way.where, state.positions):
                one, other = group[way.start], group[way.end]
                group = [one if k == other else k for k in group]
        own = [k for k, name in enumerate(network.places) if name.rpartition(".")[0] not in parts]
        for number in dict.fromkeys(group[k] for k in own):
            names = [network.places[k] for k in own if group[k] == number]
            if len(names) > 1:
                yield f"{network.medium} between {', '.join(families(names))}"
