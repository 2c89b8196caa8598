"""One of two circuits within the pair of both."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, structs

from verifier.model.circuit import (
    Assumption,
    Circuit,
    Element,
    Move,
    Network,
    Part,
    Passage,
    Port,
    Supply,
    Volume,
    Where,
)
from verifier.model.condition import At, Condition, Hand, High, Path, Setting
from verifier.model.run import Run, State, Step
from verifier.model.simplify import Atom, replace


class Offsets(Struct, frozen=True):
    """What is added to a circuit's own numbers."""

    supplies: int = 0
    parts: int = 0
    ports: int = 0
    volumes: int = 0
    elements: int = 0
    networks: int = 0


class Side(Struct, frozen=True):
    """Where the things of one circuit are in the pair, by number.

    name: begins the names of its things.   hands, switches: of each hand and switch of the circuit
    the one of the pair.   values: of each switch, its values by their numbers in the pair.
    """

    name: str
    circuit: Circuit
    add: Offsets
    hands: tuple[int, ...]
    switches: tuple[int, ...]
    values: tuple[tuple[int, ...], ...]

    # ---- what the pair has of this circuit
    def condition(self, condition: Condition) -> Condition:
        """What it says of the circuit, said of the pair."""
        return replace(condition, self._atom)

    def _atom(self, atom: Atom) -> Condition:
        match atom:
            case High(volume=volume, reader=reader, port=port):
                own = None if port is None else port + self.add.ports
                return High(volume + self.add.volumes, self.name + reader, own)
            case At(element=element, positions=positions):
                return At(element + self.add.elements, positions)
            case Hand(hand=hand):
                return Hand(self.hands[hand])
            case Setting(switch=switch, values=values):
                there = sorted(self.values[switch][value] for value in values)
                return Setting(self.switches[switch], tuple(there))
            case Path(network=network, start=start, end=end, directed=directed):
                return Path(network + self.add.networks, start, end, directed)
        return atom

    def supplies(self) -> tuple[Supply, ...]:
        return tuple(
            structs.replace(
                one,
                name=self.name + one.name,
                switch=self.switches[one.switch],
                volume=one.volume + self.add.volumes,
            )
            for one in self.circuit.supplies
        )

    def parts(self) -> tuple[Part, ...]:
        return tuple(
            structs.replace(
                part,
                name=self.name + part.name,
                ports=tuple(port + self.add.ports for port in part.ports),
                elements=tuple(element + self.add.elements for element in part.elements),
                hands=tuple(self.hands[hand] for hand in part.hands),
                switches=tuple(self.switches[switch] for switch in part.switches),
            )
            for part in self.circuit.parts
        )

    def ports(self) -> tuple[Port, ...]:
        return tuple(
            structs.replace(
                port,
                name=self.name + port.name,
                part=port.part + self.add.parts,
                volume=port.volume + self.add.volumes,
            )
            for port in self.circuit.ports
        )

    def volumes(self) -> tuple[Volume, ...]:
        return tuple(
            structs.replace(
                volume,
                name=self.name + volume.name,
                ports=tuple(port + self.add.ports for port in volume.ports),
                supplies=tuple(one + self.add.supplies for one in volume.supplies),
                line=None,
            )
            for volume in self.circuit.volumes
        )

    def elements(self) -> tuple[Element, ...]:
        return tuple(
            structs.replace(
                element,
                name=self.name + element.name,
                part=element.part + self.add.parts,
                moves=tuple(
                    Move(move.target, self.condition(move.when), move.span)
                    for move in element.moves
                ),
            )
            for element in self.circuit.elements
        )

    def passages(self) -> tuple[Passage, ...]:
        return tuple(
            structs.replace(
                passage,
                part=passage.part + self.add.parts,
                ports=(passage.ports[0] + self.add.ports, passage.ports[1] + self.add.ports),
                start=passage.start + self.add.volumes,
                end=passage.end + self.add.volumes,
                where=self._where(passage.where),
            )
            for passage in self.circuit.passages
        )

    def networks(self) -> tuple[Network, ...]:
        return tuple(
            structs.replace(
                network,
                places=tuple(self.name + place for place in network.places),
                ways=tuple(
                    structs.replace(
                        way,
                        part=None if way.part is None else way.part + self.add.parts,
                        where=self._where(way.where),
                    )
                    for way in network.ways
                ),
            )
            for network in self.circuit.networks
        )

    def assumptions(self) -> tuple[Assumption, ...]:
        return tuple(
            structs.replace(one, name=self.name + one.name, condition=self.condition(one.condition))
            for one in self.circuit.assumptions
        )

    def _where(self, where: tuple[Where, ...]) -> tuple[Where, ...]:
        return tuple(Where(w.element + self.add.elements, w.positions) for w in where)

    # ---- what this circuit has of the pair
    def state(self, pair: State) -> State:
        """What a state of the pair is for this circuit."""
        settings = tuple(
            self.values[own].index(pair.settings[there]) for own, there in enumerate(self.switches)
        )
        first, volume = self.add.elements, self.add.volumes
        return State(
            pair.positions[first : first + len(self.circuit.elements)],
            tuple(pair.hands[hand] for hand in self.hands),
            settings,
            pair.memory[volume : volume + len(self.circuit.volumes)],
        )

    def run(self, pair: Run) -> Run:
        """The run of this circuit. Steps in which it stands still while the other moves stay."""
        mine: Mapping[int, int] = {there: own for own, there in enumerate(self.hands)}
        steps = (
            Step(tuple(mine[h] for h in step.acting if h in mine), self.state(step.state))
            for step in pair.steps
        )
        return Run(self.state(pair.start), tuple(steps))
