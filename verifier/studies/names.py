"""How things are called in stories."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.model.circuit import Circuit


def spoken(label: str) -> str:
    """A label of the language as words: `turned_off` is "turned off"."""
    return label.replace("_", " ")


def element_name(circuit: Circuit, index: int) -> str:
    """The part's name when the element is its only one but for faults, else the element's own."""
    element = circuit.elements[index]
    part = circuit.parts[element.part]
    moving = sum(not circuit.elements[one].fault for one in part.elements)
    return part.name if moving == 1 and not element.fault else element.name


def line_names(circuit: Circuit, volumes: Iterable[int]) -> tuple[str, ...]:
    """Names of the volumes that are lines; single ports left open or plugged are not told."""
    lines = (circuit.volumes[volume].line for volume in volumes)
    return tuple(circuit.lines[line].name for line in lines if line is not None)


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
