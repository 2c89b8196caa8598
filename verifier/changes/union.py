"""Two circuits as one to be drawn: what both have once, what only one has beside it.

It means nothing and is not proved anything of. A line that joins more or fewer ports than before is
told as what stayed, and as one more line for what is new and one for what is gone.
"""

from __future__ import annotations

from msgspec import Struct, structs

from verifier.changes.counterparts import Counterparts
from verifier.changes.side import Offsets, Side
from verifier.model.circuit import (
    Circuit,
    Element,
    HandControl,
    Network,
    Part,
    Passage,
    Port,
    Switch,
    Volume,
    Way,
)


class Union(Struct, frozen=True):
    """also: of a port the lines that it is joined to besides its own.

    added, removed: parts; added_lines, removed_lines: volumes; all by number in the circuit. Those
    of the new circuit come first, with the numbers that they have in it.
    """

    circuit: Circuit
    also: dict[int, tuple[int, ...]]
    added: tuple[int, ...]
    removed: tuple[int, ...]
    added_lines: tuple[int, ...]
    removed_lines: tuple[int, ...]


def union(between: Counterparts) -> Union:
    """Of both circuits, in the names of the new one where it has any."""
    return _Union(between).made()


class _Union:
    def __init__(self, between: Counterparts) -> None:
        old, new = between.old, between.new
        self.between, self.old, self.new = between, old, new
        self.gone = [part for part in range(len(old.parts)) if part not in between.parts]
        self.parts = {**between.parts}
        self.parts.update({part: len(new.parts) + k for k, part in enumerate(self.gone)})
        self.side = Side(
            "",
            old,
            Offsets(ports=len(new.ports), volumes=len(new.volumes), elements=len(new.elements)),
            tuple(range(len(new.hands), len(new.hands) + len(old.hands))),
            tuple(range(len(new.switches), len(new.switches) + len(old.switches))),
            tuple(tuple(range(len(one.values))) for one in old.switches),
        )
        self.own: dict[int, int] = {}
        self.also: dict[int, list[int]] = {}
        self.volumes = [*new.volumes, *self.side.volumes()]
        self.added_lines: list[int] = []
        self.removed_lines: list[int] = []

    def made(self) -> Union:
        self._lines()
        new, old = self.new, self.old
        circuit = structs.replace(
            new,
            parts=(*new.parts, *self._parts()),
            ports=self._ports(),
            volumes=tuple(self.volumes),
            elements=(*new.elements, *self._elements()),
            passages=(*new.passages, *self._passages()),
            hands=(*new.hands, *map(self._hand, old.hands)),
            switches=(*new.switches, *map(self._switch, old.switches)),
            networks=self._networks(),
            properties=(),
            assumptions=(),
            accepted=(),
            faults=(),
            causes=(),
            exclusions=(),
            rates=(),
        )
        stayed = set(self.between.parts.values())
        return Union(
            circuit=circuit,
            also={port: tuple(dict.fromkeys(lines)) for port, lines in self.also.items()},
            added=tuple(part for part in range(len(new.parts)) if part not in stayed),
            removed=tuple(range(len(new.parts), len(new.parts) + len(self.gone))),
            added_lines=tuple(self.added_lines),
            removed_lines=tuple(self.removed_lines),
        )

    # ---- lines
    def _lines(self) -> None:
        back = {new: old for old, new in self.between.volumes.items()}
        for number, volume in enumerate(self.new.volumes):
            if volume.line is not None:
                self._line(number, back.get(number))
        for number, volume in enumerate(self.old.volumes):
            there = self.between.volumes.get(number)
            if volume.line is not None and (there is None or self.new.volumes[there].line is None):
                self._removed(number, self._ends(number), None)

    def _line(self, new: int, old: int | None) -> None:
        """A line of the new circuit, with the one that it was."""
        now = list(self.new.volumes[new].ports)
        before = [] if old is None else self._ends(old)
        stayed = [port for port in now if port in before]
        more = [port for port in now if port not in before]
        less = [port for port in before if port not in now]
        if more and stayed:
            added = len(self.volumes)
            name = self.new.volumes[new].name
            self.volumes.append(Volume(name, tuple(more), False, (), None))
            self.volumes[new] = structs.replace(self.volumes[new], ports=tuple(stayed))
            self.own.update(dict.fromkeys(more, added))
            self.also.setdefault(stayed[0], []).append(added)
            self.added_lines.append(added)
        elif more:
            self.added_lines.append(new)
        if less and old is not None:
            self._removed(old, less, stayed[0] if stayed else None)

    def _removed(self, old: int, ports: list[int], anchor: int | None) -> None:
        gone = old + len(self.new.volumes)
        for port in (*ports, *(() if anchor is None else (anchor,))):
            if port < len(self.new.ports):
                self.also.setdefault(port, []).append(gone)
        self.removed_lines.append(gone)

    def _ends(self, old: int) -> list[int]:
        """Ports of an old volume, by their numbers in the union; without those that are not drawn,
        of a part that has another kind now."""
        found = []
        for port in self.old.volumes[old].ports:
            if port in self.between.ports:
                found.append(self.between.ports[port])
            elif self.old.ports[port].part in self.gone:
                found.append(port + len(self.new.ports))
        return found

    # ---- things
    def _parts(self) -> list[Part]:
        every = self.side.parts()
        return [every[part] for part in self.gone]

    def _ports(self) -> tuple[Port, ...]:
        found = []
        for number, port in enumerate(self.new.ports):
            state = "piped" if number in self.also else port.state
            volume = self.own.get(number, port.volume)
            found.append(structs.replace(port, volume=volume, state=state))
        for port in self.side.ports():
            found.append(structs.replace(port, part=self.parts[port.part]))
        return tuple(found)

    def _elements(self) -> list[Element]:
        return [structs.replace(one, part=self.parts[one.part]) for one in self.side.elements()]

    def _passages(self) -> list[Passage]:
        return [
            structs.replace(one, part=self.parts[one.part])
            for one in self.side.passages()
            if one.part in self.gone
        ]

    def _hand(self, hand: HandControl) -> HandControl:
        return structs.replace(hand, part=self.parts[hand.part])

    def _switch(self, switch: Switch) -> Switch:
        part = None if switch.part is None else self.parts[switch.part]
        return structs.replace(switch, part=part)

    def _networks(self) -> tuple[Network, ...]:
        """The new networks, and the ways in and at parts that are gone."""
        found = {network.medium: network for network in self.new.networks}
        for network in self.side.networks():
            known = found.get(network.medium, Network(network.medium, (), ()))
            places = {name: k for k, name in enumerate(known.places)}
            ways: list[Way] = []
            for way in network.ways:
                if self._is_gone(network, way):
                    ends = [
                        places.setdefault(self.between.place(network.places[end]), len(places))
                        for end in (way.start, way.end)
                    ]
                    part = None if way.part is None else self.parts[way.part]
                    ways.append(structs.replace(way, part=part, start=ends[0], end=ends[1]))
            found[network.medium] = structs.replace(
                known, places=tuple(places), ways=(*known.ways, *ways)
            )
        return tuple(found.values())

    def _is_gone(self, network: Network, way: Way) -> bool:
        """Whether the way is in a part that is gone, or leads to one."""
        if way.part is not None:
            return way.part in self.gone
        names = {self.old.parts[part].name for part in self.gone}
        ends = (network.places[way.start], network.places[way.end])
        return any(end.rpartition(".")[0] in names for end in ends)
