"""How parts, lines and assemblies are called on a drawing: short, where a frame says the rest."""

from __future__ import annotations

from verifier.drawing.frames import within
from verifier.drawing.told import Told


def part_name(told: Told, part: int, framed: frozenset[str] | None) -> str:
    """The name without that of the innermost outline round the part. None: all have one."""
    told_part = told.circuit.parts[part]
    outline = innermost(told_part.assembly, framed)
    return told_part.name.removeprefix(outline + ".") if outline else told_part.name


def innermost(assembly: str, framed: frozenset[str] | None) -> str:
    """The innermost assembly with an outline that an assembly is or stands in; "" if none."""
    while assembly and framed is not None and assembly not in framed:
        assembly = assembly.rpartition(".")[0]
    return assembly


def line_name(told: Told, volume: int, framed: frozenset[str]) -> str:
    """The name of a line without that of the outline that it lies in as a whole."""
    circuit = told.circuit
    name = circuit.volumes[volume].name
    line = circuit.volumes[volume].line
    if line is not None:
        name = circuit.lines[line].name
    assemblies = {
        circuit.parts[circuit.ports[port].part].assembly for port in circuit.volumes[volume].ports
    }
    outline = innermost(name.rpartition(".")[0], framed)
    if outline and all(within(one, outline) for one in assemblies):
        return name.removeprefix(outline + ".")
    return name


def frame_name(assembly: str, framed: frozenset[str]) -> str:
    outer = innermost(assembly.rpartition(".")[0], framed)
    return assembly.removeprefix(outer + ".") if outer else assembly
