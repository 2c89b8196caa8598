"""How things are called in stories."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.model.circuit import Circuit, moving


def spoken(label: str) -> str:
    """A label of the language as words: `turned_off` is "turned off"."""
    return label.replace("_", " ")


def element_name(circuit: Circuit, index: int) -> str:
    """The part's name when the element is its only one, else the element's own."""
    element = circuit.elements[index]
    if element.fault or len(moving(circuit, element.part)) > 1:
        return element.name
    return circuit.parts[element.part].name


def line_names(circuit: Circuit, volumes: Iterable[int]) -> tuple[str, ...]:
    """Names of the volumes that are lines, or ends of lines that a fault can cut off; single ports
    left open or plugged are not told."""
    found = (circuit.volumes[volume] for volume in volumes)
    return tuple(
        one.name
        for one in found
        if one.line is not None or any(circuit.ports[port].state == "piped" for port in one.ports)
    )


def line_of_end(circuit: Circuit, volume: int) -> int | None:
    """The volume of the line of which this is an end that a fault can cut off."""
    end = circuit.volumes[volume]
    if end.line is not None or not end.ports:
        return None
    before = f"{circuit.ports[end.ports[0]].name} at "
    if not end.name.startswith(before):
        return None
    name = end.name.removeprefix(before)
    return next((one.volume for one in circuit.lines if one.name == name), None)


def switched(circuit: Circuit, switch: int, value: int) -> str:
    """That a switch of the surroundings stands at a value."""
    name = circuit.switches[switch].values[value]
    for supply in circuit.supplies:
        if supply.switch == switch:
            told = {"present": "gives air", "absent": "gives no air", "weak": "is weak"}
            return f"the supply {supply.name} {told[name]}"
    return f"{circuit.switches[switch].name} is {spoken(name)}"


def listed(names: Sequence[str], most: int = 6) -> str:
    """The names with commas and an "and"; of many, how many more there are."""
    shown = list(names[:most])
    if len(names) > most:
        shown.append(f"{len(names) - most} more")
    return " and ".join(part for part in (", ".join(shown[:-1]), *shown[-1:]) if part)
