"""What differs in the tubes and lines of two circuits, port by port."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.changes.counterparts import Counterparts
from verifier.changes.difference import Difference, listed
from verifier.model.circuit import Circuit


def of_routes(between: Counterparts) -> Iterator[Difference]:
    """Of every port that both designs have, whether it is joined to the same things."""
    old, new = between.old, between.new
    for a, b in between.ports.items():
        before, after = old.ports[a], new.ports[b]
        mine, theirs = old.volumes[before.volume], new.volumes[after.volume]
        same_line = between.volumes.get(before.volume) == after.volume
        if same_line and before.state == after.state:
            continue
        if mine.line is None and theirs.line is None and before.state == after.state:
            continue
        words = f"`{after.name}` is {place_of(new, after.volume)}, "
        words += f"and was {place_of(old, before.volume)}"
        part = new.parts[after.part].name
        yield Difference("port re-routed", words, (part,), (after.name,))


def place_of(circuit: Circuit, volume: int) -> str:
    one = circuit.volumes[volume]
    if one.line is not None:
        return f"on line `{circuit.lines[one.line].name}`"
    return "open to the air" if one.open_air else "plugged"


def of_lines(between: Counterparts) -> Iterator[Difference]:
    old, new = between.old, between.new
    for line in old.lines:
        there = between.volumes.get(line.volume)
        other = None if there is None else new.volumes[there]
        if other is None or other.line is None:
            yield Difference("line removed", f"line `{line.name}` is no longer there")
        elif new.lines[other.line].name != line.name:
            words = f"line `{line.name}` is now called `{new.lines[other.line].name}`"
            yield Difference("line renamed", words, name_only=True)
    taken = set(between.volumes.values())
    for line in new.lines:
        if line.volume not in taken:
            joined = tuple(new.ports[port].name for port in new.volumes[line.volume].ports)
            words = f"line `{line.name}` is new, and joins {listed(joined)}"
            yield Difference("line added", words, ports=joined)
