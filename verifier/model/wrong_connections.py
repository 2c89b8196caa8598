"""A circuit as it is when one connection was made wrongly: another circuit, with the same faults.

Two tubes of one part have changed places, or a tube is not there. What a port is for stays with the
port; so does a property that speaks of a port. One that speaks of a line speaks of the line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import combinations

from msgspec import Struct, structs

from verifier.diagnostics.span import Span
from verifier.model.circuit import (
    Circuit,
    Element,
    Instance,
    Line,
    Move,
    Part,
    Passage,
    Port,
    Property,
    Tube,
    Volume,
)
from verifier.model.condition import Condition, High
from verifier.model.simplify import Atom, replace
from verifier.model.strikes import JUNCTION, single_strikes

LEFT_OFF = "what was left off"
"""The part that has the open mouths of lines; no design can name one so."""


class Swapped(Struct, frozen=True, tag="swapped", tag_field="is"):
    """What belongs at either of two ports of one part is at the other: tube, plug or silencer."""

    ports: tuple[int, int]


class LeftOff(Struct, frozen=True, tag="left off", tag_field="is"):
    """A tube is not there: what it would join is open to the air at full bore."""

    tube: int


WrongConnection = Swapped | LeftOff
Those = Callable[[Iterable[str]], tuple[str, ...]]


def wrong_connections(circuit: Circuit) -> tuple[WrongConnection, ...]:
    """Every single one that makes another circuit: swaps by part and port, then tubes left off."""
    swaps = (
        Swapped(pair)
        for part in circuit.parts
        for pair in combinations(part.ports, 2)
        if _differ(circuit, *pair)
    )
    return (*swaps, *(LeftOff(tube) for tube in range(len(circuit.tubes))))


def _differ(circuit: Circuit, one: int, other: int) -> bool:
    """Not on the same line, not both open, not both plugged."""
    a, b = circuit.ports[one], circuit.ports[other]
    return a.volume != b.volume and (a.state == "piped" or a.state != b.state)


def wrong_words(circuit: Circuit, wrong: WrongConnection) -> str:
    """`pick[1].1 and pick[1].2 swapped`, `tube lift[1] left off`."""
    if isinstance(wrong, LeftOff):
        return f"tube {circuit.tubes[wrong.tube].name} left off"
    one, other = (circuit.ports[port].name for port in wrong.ports)
    return f"{one} and {other} swapped"


def wrongly_connected(circuit: Circuit, wrong: WrongConnection) -> Circuit:
    """The circuit with it. Parts, ports, elements, hands, switches, supplies, networks and
    properties keep their numbers; volumes keep theirs, new ones come after them.

    Raises ValueError for ports of different parts, or a swap that changes nothing.
    """
    change = _Change(circuit)
    if isinstance(wrong, LeftOff):
        change.leave_off(wrong.tube)
    else:
        change.swap(*wrong.ports)
    return change.result()


class _Change:
    """Ports and volumes as they come to be; the rest follows from them."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.ports = list(circuit.ports)
        self.volumes = list(circuit.volumes)
        self.parts = list(circuit.parts)
        self.supplies = list(circuit.supplies)
        self.tubes = list(circuit.tubes)
        self.without: int | None = None  # the tube that is gone
        self.mouths: list[tuple[int, int]] = []  # ports of open ends of lines, and to the outside
        self.renamed: dict[str, str] = {}  # names of faults

    # ---- two connections change places
    def swap(self, one: int, other: int) -> None:
        a, b = self.ports[one], self.ports[other]
        if a.part != b.part or not _differ(self.circuit, one, other):
            raise ValueError(f"{a.name} and {b.name} cannot be swapped")
        self.ports[one] = structs.replace(a, volume=b.volume, state=b.state)
        self.ports[other] = structs.replace(b, volume=a.volume, state=a.state)
        for mine, gone in ((one, other), (other, one)):
            number = self.ports[mine].volume
            volume = self.volumes[number]
            ports = sorted(mine if port == gone else port for port in volume.ports)
            name = volume.name if volume.line is not None else self.ports[mine].name
            self.volumes[number] = structs.replace(volume, ports=tuple(ports), name=name)
        turned = {a.name: b.name, b.name: a.name}
        for number, tube in enumerate(self.tubes):
            ends = (turned.get(tube.ends[0], tube.ends[0]), turned.get(tube.ends[1], tube.ends[1]))
            self.tubes[number] = structs.replace(tube, ends=ends)
            for before, now in zip(tube.ends, ends, strict=True):
                self.renamed[_torn(tube, before)] = _torn(tube, now)

    # ---- a tube is not there
    def leave_off(self, tube: int) -> None:
        gone = self.tubes[tube]
        line = self.circuit.lines[gone.line].volume
        self.without = tube
        if JUNCTION in gone.ends:
            (end,) = (one for one in gone.ends if one != JUNCTION)
            self._take_off(end, line)
            self._open(line, gone.span)
        else:
            self._take_off(gone.ends[1], line)
            self._all_open(gone.ends[0], line)

    def _take_off(self, end: str, line: int) -> None:
        """The end gets a volume of its own, open to the air."""
        own = len(self.volumes)
        volume = self.volumes[line]
        fed = self._supply(end)
        if fed is not None:
            left = tuple(one for one in volume.supplies if one != fed)
            self.volumes[line] = structs.replace(volume, supplies=left)
            name = f"outlet of {self.supplies[fed].name}"
            self.volumes.append(Volume(name, (), True, (fed,), None))
            self.supplies[fed] = structs.replace(self.supplies[fed], volume=own)
            return
        port = self._port(end)
        ports = tuple(one for one in volume.ports if one != port)
        self.volumes[line] = structs.replace(volume, ports=ports)
        self.volumes.append(Volume(end, (port,), True, (), None))
        self.ports[port] = structs.replace(self.ports[port], volume=own, state="atmosphere")

    def _all_open(self, end: str, line: int) -> None:
        """What is left of a line without its only tube: one end, open to the air."""
        fed = self._supply(end)
        name = end if fed is None else f"outlet of {self.supplies[fed].name}"
        volume = self.volumes[line]
        self.volumes[line] = structs.replace(volume, name=name, open_air=True, line=None)
        for port in volume.ports:
            self.ports[port] = structs.replace(self.ports[port], state="atmosphere")

    def _open(self, line: int, span: Span) -> None:
        """The line keeps the mouth that the tube was to be put on: air goes out by it."""
        part, name = len(self.parts), f"open end of {self.volumes[line].name}"
        mouth, outside = len(self.ports), len(self.volumes)
        self.ports.append(Port(name, part, name, line, False, "piped", span))
        around = f"the air at the {name}"
        self.ports.append(Port(around, part, around, outside, True, "atmosphere", span))
        volume = self.volumes[line]
        self.volumes[line] = structs.replace(volume, ports=(*volume.ports, mouth))
        self.volumes.append(Volume(around, (mouth + 1,), True, (), None))
        self.parts.append(Part(LEFT_OFF, "open end", (mouth, mouth + 1), (), (), (), (), span))
        self.mouths.append((mouth, mouth + 1))

    def _supply(self, end: str) -> int | None:
        names = [f"supply {one.name}" for one in self.supplies]
        return names.index(end) if end in names else None

    def _port(self, end: str) -> int:
        return next(k for k, port in enumerate(self.ports) if port.name == end)

    # ---- all that follows
    def result(self) -> Circuit:
        circuit = self.circuit
        lines, tubes, volumes = self._without_tube()
        changed = structs.replace(
            circuit,
            supplies=tuple(self.supplies),
            parts=tuple(self.parts),
            ports=tuple(self.ports),
            volumes=volumes,
            lines=lines,
            tubes=tubes,
            elements=tuple(self._element(one) for one in circuit.elements),
            passages=(*map(self._passage, circuit.passages), *self._open_ends()),
            properties=tuple(self._property(one) for one in circuit.properties),
        )
        return _with_known_faults(changed, self.renamed)

    def _without_tube(self) -> tuple[tuple[Line, ...], tuple[Tube, ...], tuple[Volume, ...]]:
        """Lines, tubes and volumes once the tube that is gone is not counted any more; a line of
        that tube alone is gone as well."""
        lines, tubes = list(self.circuit.lines), list(self.tubes)
        if self.without is None:
            return tuple(lines), tuple(tubes), tuple(self.volumes)
        gone = tubes[self.without].line if len(lines[tubes[self.without].line].tubes) == 1 else None
        place = {old: new for new, old in enumerate(k for k in range(len(lines)) if k != gone)}
        number = {
            old: new for new, old in enumerate(k for k in range(len(tubes)) if k != self.without)
        }
        return (
            tuple(
                structs.replace(line, tubes=tuple(number[t] for t in line.tubes if t in number))
                for k, line in enumerate(lines)
                if k != gone
            ),
            tuple(
                structs.replace(tube, line=place[tube.line])
                for k, tube in enumerate(tubes)
                if k != self.without
            ),
            tuple(
                volume if volume.line is None else structs.replace(volume, line=place[volume.line])
                for volume in self.volumes
            ),
        )

    def _passage(self, passage: Passage) -> Passage:
        first, last = passage.ports
        return structs.replace(passage, start=self.ports[first].volume, end=self.ports[last].volume)

    def _open_ends(self) -> Iterator[Passage]:
        for mouth, outside in self.mouths:
            port = self.ports[mouth]
            yield Passage(
                port.part,
                (mouth, outside),
                port.volume,
                self.ports[outside].volume,
                "full",
                True,
                (),
                port.span,
            )

    def _element(self, element: Element) -> Element:
        moves = tuple(
            Move(move.target, replace(move.when, self._atom), move.span) for move in element.moves
        )
        return structs.replace(element, moves=moves)

    def _property(self, item: Property) -> Property:
        return structs.replace(item, instances=tuple(self._instance(one) for one in item.instances))

    def _instance(self, instance: Instance) -> Instance:
        first = instance.first
        return structs.replace(
            instance,
            condition=replace(instance.condition, self._atom),
            triggers=tuple(replace(one, self._atom) for one in instance.triggers),
            first=None if first is None else replace(first, self._atom),
        )

    def _atom(self, atom: Atom) -> Condition:
        if not isinstance(atom, High):
            return atom
        volume = atom.volume if atom.port is None else self.ports[atom.port].volume
        return High(volume, self._reader(atom, volume), atom.port)

    def _reader(self, atom: High, volume: int) -> str:
        """In a move it is the port, in `worked by` the part, in a property the volume."""
        before, now = self.circuit.volumes[atom.volume], self.volumes[volume]
        if atom.reader.endswith(f" worked by {before.name}"):
            return f"{atom.reader.removesuffix(before.name)}{now.name}"
        if atom.reader in (f"line {before.name}", f"port {before.name}"):
            return f"{'port' if now.line is None else 'line'} {now.name}"
        return atom.reader


def _torn(tube: Tube, end: str) -> str:
    return f"tube {tube.name} torn at {end}"


def _with_known_faults(circuit: Circuit, renamed: dict[str, str]) -> Circuit:
    """What a design says of faults, said of those that are still there."""
    tolerant = any(item.tolerating is not None for item in circuit.properties)
    if not (tolerant or circuit.causes or circuit.exclusions or circuit.rates):
        return circuit
    known = {one.name for one in single_strikes(circuit)}

    def those(names: Iterable[str]) -> tuple[str, ...]:
        told = (renamed.get(name, name) for name in names)
        return tuple(dict.fromkeys(name for name in told if name in known))

    causes = tuple(structs.replace(one, faults=those(one.faults)) for one in circuit.causes)
    known |= {f"cause {one.name}" for one in causes}
    return structs.replace(
        circuit,
        causes=causes,
        exclusions=tuple(structs.replace(x, faults=those(x.faults)) for x in circuit.exclusions),
        rates=tuple(structs.replace(one, faults=those(one.faults)) for one in circuit.rates),
        properties=tuple(_tolerating(item, those) for item in circuit.properties),
    )


def _tolerating(item: Property, those: Those) -> Property:
    tolerance = item.tolerating
    if tolerance is None:
        return item
    named = tolerance.faults if tolerance.faults is None else those(tolerance.faults)
    left_out = tolerance.excluded if tolerance.excluded is None else those(tolerance.excluded)
    return structs.replace(
        item, tolerating=structs.replace(tolerance, faults=named, excluded=left_out)
    )
