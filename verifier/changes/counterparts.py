"""What each thing of an old circuit is in a new one, and conditions told in the new one's terms."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol, TypeVar

from verifier.changes.matching import Matching
from verifier.model.circuit import Circuit, Where
from verifier.model.condition import At, Condition, Hand, High, Path, Setting
from verifier.model.simplify import Atom, replace

Met = tuple[tuple[int | None, tuple[int, ...]], ...]
"""When a path is open: elements by their number in the new circuit, None if they have none."""


def met(where: Sequence[Where], element: Callable[[int], int | None]) -> Met:
    return tuple(sorted(((element(w.element), w.positions) for w in where), key=repr))


class Foreign(Exception):
    """The old condition speaks of something that the new circuit does not have; says what."""


class _OfPart(Protocol):
    @property
    def label(self) -> str: ...


_Thing = TypeVar("_Thing", bound=_OfPart)


class Counterparts:
    """By number, old to new; what has none is not in the dictionary.

    parts, ports, elements, hands, switches: of one part and with one label; what belongs to no part
    has the same name.   volumes: those that most of its ports are in now.   lines: likewise.
    """

    def __init__(self, old: Circuit, new: Circuit, matching: Matching) -> None:
        self.old = old
        self.new = new
        self.parts = matching.parts
        self.ports = self._labelled(old.ports, new.ports, lambda port: port.part)
        self.elements = self._labelled(old.elements, new.elements, lambda element: element.part)
        self.hands = self._labelled(old.hands, new.hands, lambda hand: hand.part)
        self.switches = self._labelled(old.switches, new.switches, lambda switch: switch.part)
        self.volumes = self._volumes()

    def _labelled(
        self, olds: Sequence[_Thing], news: Sequence[_Thing], part: Callable[[_Thing], int | None]
    ) -> dict[int, int]:
        there = {(part(thing), thing.label): k for k, thing in enumerate(news)}
        found = {}
        for k, thing in enumerate(olds):
            own = part(thing)
            key = (None if own is None else self.parts.get(own, -1), thing.label)
            if key in there:
                found[k] = there[key]
        return found

    def _volumes(self) -> dict[int, int]:
        """Each volume of either circuit is the counterpart of one at most: of the pairs that share
        a port or supply those of one name first, then those that share most."""
        supplies = {supply.name: k for k, supply in enumerate(self.new.supplies)}
        shared: dict[tuple[int, int], int] = {}
        for a, volume in enumerate(self.old.volumes):
            ends = [self.new.ports[self.ports[p]].volume for p in volume.ports if p in self.ports]
            names = (self.old.supplies[k].name for k in volume.supplies)
            ends += [self.new.supplies[supplies[n]].volume for n in names if n in supplies]
            for b in ends:
                shared[a, b] = shared.get((a, b), 0) + 1
        found: dict[int, int] = {}
        taken: set[int] = set()
        for a, b in sorted(shared, key=lambda pair: self._rank(pair, shared[pair])):
            if a not in found and b not in taken:
                found[a] = b
                taken.add(b)
        return dict(sorted(found.items()))

    def _rank(self, pair: tuple[int, int], count: int) -> tuple[bool, int, int, int]:
        a, b = pair
        return self.old.volumes[a].name != self.new.volumes[b].name, -count, a, b

    def element(self, old: int) -> int | None:
        return self.elements.get(old)

    # ---- conditions
    def condition(self, condition: Condition) -> Condition:
        """The same said of the new circuit. Raises Foreign."""
        return replace(condition, self._atom)

    def _atom(self, atom: Atom) -> Condition:
        match atom:
            case High():
                return self._read(atom)
            case At(element=element, positions=positions):
                return self._at(element, positions)
            case Hand(hand=hand):
                return Hand(self._one(self.hands, hand, self.old.hands[hand].name))
            case Setting(switch=switch, values=values):
                return self._setting(switch, values)
            case Path(network=network, start=start, end=end, directed=directed):
                return self._path(network, start, end, directed)
        return atom

    def _one(self, of: dict[int, int], number: int, name: str) -> int:
        if number not in of:
            raise Foreign(name)
        return of[number]

    def _read(self, atom: High) -> High:
        """Of a port, wherever it is joined now; else of the line, where most of its ports are."""
        volume, reader, port = atom.volume, atom.reader, None
        if atom.port is not None:
            port = self._one(self.ports, atom.port, self.old.ports[atom.port].name)
            there = self.new.ports[port].volume
        else:
            there = self._volume_read(volume, reader)
        return High(there, self._reader(volume, reader, there), port)

    def _volume_read(self, volume: int, reader: str) -> int:
        """A port's own volume where the reader is a port; else where most of its ports are now."""
        for number in self.old.volumes[volume].ports:
            if self.old.ports[number].name == reader:
                there = self._one(self.ports, number, reader)
                return self.new.ports[there].volume
        return self._one(self.volumes, volume, self.old.volumes[volume].name)

    def _reader(self, volume: int, reader: str, there: int) -> str:
        """In a move the reader is a port, in `worked by` a part, in a property the volume."""
        name = self.new.volumes[there].name
        if reader.endswith(f" worked by {self.old.volumes[volume].name}"):
            part = reader.partition(" worked by ")[0]
            return f"{self._part(part)} worked by {name}"
        for number in self.old.volumes[volume].ports:
            if self.old.ports[number].name == reader:
                return self.new.ports[self.ports[number]].name
        return f"port {name}" if self.new.volumes[there].line is None else f"line {name}"

    def _part(self, name: str) -> str:
        for a, b in self.parts.items():
            if self.old.parts[a].name == name:
                return self.new.parts[b].name
        raise Foreign(name)

    def _at(self, element: int, positions: tuple[int, ...]) -> Condition:
        mine = self.old.elements[element]
        there = self._one(self.elements, element, mine.name)
        names = self.new.elements[there].positions
        wanted = [mine.positions[k] for k in positions]
        for name in mine.positions:
            if name not in names:
                raise Foreign(f"{mine.name} is {name}")
        return At(there, tuple(sorted(names.index(name) for name in wanted)))

    def _setting(self, switch: int, values: tuple[int, ...]) -> Condition:
        mine = self.old.switches[switch]
        there = self._one(self.switches, switch, mine.name)
        names = self.new.switches[there].values
        for k in values:
            if mine.values[k] not in names:
                raise Foreign(f"{mine.name} is {mine.values[k]}")
        return Setting(there, tuple(sorted(names.index(mine.values[k]) for k in values)))

    def _path(self, network: int, start: int, end: int, directed: bool) -> Condition:
        mine = self.old.networks[network]
        for k, other in enumerate(self.new.networks):
            if other.medium == mine.medium:
                first, last = self.place(mine.places[start]), self.place(mine.places[end])
                for name in (first, last):
                    if name not in other.places:
                        raise Foreign(name)
                places = other.places.index
                return Path(k, places(first), places(last), directed)
        raise Foreign(mine.medium)

    def fault(self, name: str) -> str:
        """The name that a fault of the old circuit has in the new one: it begins with that of its
        part, or speaks of a tube by its line, and of the ports at its ends."""
        for a, b in self.parts.items():
            if name.startswith(f"{self.old.parts[a].name} "):
                return self.new.parts[b].name + name[len(self.old.parts[a].name) :]
        words = name.split(" ")
        if words[0] == "tube":
            told = {self.old.lines[k].name: name for k, name in self._line_names().items()}
            ports = {self.old.ports[a].name: self.new.ports[b].name for a, b in self.ports.items()}
            words[1] = told.get(words[1], words[1])
            words[2:] = [ports.get(word, word) for word in words[2:]]
        return " ".join(words)

    def _line_names(self) -> dict[int, str]:
        """What each old line is called now, by its number."""
        found = {}
        for k, line in enumerate(self.old.lines):
            there = self.volumes.get(line.volume)
            number = None if there is None else self.new.volumes[there].line
            if number is not None:
                found[k] = self.new.lines[number].name
        return found

    def place(self, name: str) -> str:
        """The name that a place of the old circuit has in the new one: of a part, if it is one of
        its ports."""
        part, dot, label = name.rpartition(".")
        for a, b in self.parts.items() if dot else ():
            if self.old.parts[a].name == part:
                return f"{self.new.parts[b].name}.{label}"
        return name
