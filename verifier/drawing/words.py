"""The text alternative of a drawing: what it shows, in words, for those who do not see it."""

from __future__ import annotations

from verifier.drawing.marks import Marks
from verifier.model.circuit import Circuit, moving

SAID = {
    "high": "under pressure",
    "low": "vented",
    "trapped_high": "shut in, under pressure",
    "trapped_low": "shut in, vented",
    "contested": "fed and vented at once",
}


def describe(circuit: Circuit, marks: Marks | None = None) -> str:
    """One sentence for each thing: what stands where, what each line joins, and in which state."""
    marks = marks or Marks()
    lines = [f"Circuit diagram of {circuit.title or circuit.name}."]
    for supply in circuit.supplies:
        lines.append(_sentence(f"Supply {supply.name}", supply.doc))
    for index, part in enumerate(circuit.parts):
        said = _sentence(f"{part.name}: {part.kind_doc or part.kind}", part.doc)
        states = [
            f"{circuit.elements[element].label} {_position(circuit, element, marks)}"
            for element in moving(circuit, index)
        ]
        if states:
            said = f"{said[:-1]}; {', '.join(states)}."
        lines.append(said + _told_of(marks, index))
    for index, volume in enumerate(circuit.volumes):
        if volume.line is None:
            continue
        ends = [circuit.supplies[supply].name for supply in volume.supplies]
        ends += [circuit.ports[port].name for port in volume.ports]
        state = f" is {SAID[marks.pressures[index]]}; it" if marks.pressures else ""
        change = " Added." if index in marks.added_lines else ""
        change += " Removed." if index in marks.removed_lines else ""
        lines.append(f"Line {volume.name}{state} joins {', '.join(ends)}.{change}")
    for flow in marks.flows:
        network = circuit.networks[flow.network]
        start, end = network.places[flow.start], network.places[flow.end]
        lines.append(f"{network.medium.capitalize()} can flow from {start} to {end}.")
    return "\n".join(lines)


def _sentence(said: str, doc: str) -> str:
    return f"{said}, {doc}." if doc else f"{said}."


def _position(circuit: Circuit, element: int, marks: Marks) -> str:
    told = circuit.elements[element]
    at = marks.positions[element] if marks.positions else told.start
    moved = " (has just moved)" if element in marks.moved else ""
    return f"{told.positions[at]}{moved}"


def _told_of(marks: Marks, part: int) -> str:
    found = (("Marked", marks.emphasised), ("Added", marks.added), ("Removed", marks.removed))
    return "".join(f" {word}." for word, parts in found if part in parts)
