"""A bench to put together small circuits by hand, for truths that are worked out on paper."""

from __future__ import annotations

from typing import Literal

import msgspec

from verifier.diagnostics.span import Span
from verifier.model.circuit import (
    Assumption,
    Circuit,
    Element,
    HandControl,
    Instance,
    Move,
    Network,
    Part,
    Passage,
    Port,
    Property,
    Supply,
    Switch,
    Volume,
    Way,
    Where,
)
from verifier.model.condition import Condition, High
from verifier.model.run import State
from verifier.simulation.steps import start

SPAN = Span("bench.ilk", 1, 1, 1, 2)
Form = Literal["never", "always", "possible", "order", "recovers"]


class Bench:
    """Everything belongs to one part, `valve`. Supplies start present unless told otherwise."""

    def __init__(self) -> None:
        self.volumes: list[Volume] = []
        self.supplies: list[Supply] = []
        self.ports: list[Port] = []
        self.passages: list[Passage] = []
        self.elements: list[Element] = []
        self.hands: list[HandControl] = []
        self.switches: list[Switch] = []
        self.ways: list[Way] = []
        self.places: tuple[str, ...] = ()
        self.assumptions: list[Assumption] = []

    def line(self, name: str) -> int:
        self.volumes.append(Volume(name, (), False, (), len(self.volumes)))
        return len(self.volumes) - 1

    def atmosphere(self, name: str = "sky") -> int:
        self.volumes.append(Volume(name, (), True, (), None))
        return len(self.volumes) - 1

    def supply(self, name: str, begins: Literal["present", "absent", "weak"] = "present") -> int:
        """A line with a supply on it; its volume."""
        volume = self.line(name)
        values = ("present", "absent", "weak")
        self.switches.append(Switch(name, None, name, values, values.index(begins), SPAN))
        self.supplies.append(Supply(name, len(self.switches) - 1, volume, SPAN))
        return volume

    def passage(
        self,
        a: int,
        b: int,
        *where: tuple[int, tuple[int, ...]],
        pinhole: bool = False,
        one_way: bool = False,
    ) -> None:
        """Air path, open when every (element, positions) of `where` is met."""
        labels = (f"p{len(self.ports)}", f"p{len(self.ports) + 1}")
        ports = (len(self.ports), len(self.ports) + 1)
        for label, volume in zip(labels, (a, b), strict=True):
            self.ports.append(Port(f"valve.{label}", 0, label, volume, False, "piped", SPAN))
        bore: Literal["full", "restricted"] = "restricted" if pinhole else "full"
        found = tuple(Where(element, positions) for element, positions in where)
        self.passages.append(Passage(0, ports, a, b, bore, one_way, found, SPAN))

    def element(
        self,
        name: str,
        positions: tuple[str, ...],
        *moves: tuple[int, Condition],
        otherwise: int | None = None,
        begins: int = 0,
    ) -> int:
        found = tuple(Move(target, when, SPAN) for target, when in moves)
        self.elements.append(
            Element(f"valve.{name}", 0, name, positions, begins, found, otherwise, SPAN)
        )
        return len(self.elements) - 1

    def hand(self, name: str, held: bool = False) -> int:
        self.hands.append(HandControl(f"valve.{name}", 0, name, held, False, SPAN))
        return len(self.hands) - 1

    def switch(self, name: str, *values: str) -> int:
        self.switches.append(Switch(name, None, name, values, 0, SPAN))
        return len(self.switches) - 1

    def assume(self, name: str, condition: Condition) -> None:
        self.assumptions.append(Assumption(name, "for the test", condition, SPAN))

    def circuit(self, *properties: Property) -> Circuit:
        part = Part(
            "valve",
            "bench",
            tuple(range(len(self.ports))),
            tuple(range(len(self.elements))),
            tuple(range(len(self.hands))),
            (),
            (),
            SPAN,
        )
        network = Network("liquid", self.places, tuple(self.ways))
        return Circuit(
            name="bench",
            title="",
            revision="",
            supplies=tuple(self.supplies),
            parts=(part,),
            ports=tuple(self.ports),
            volumes=tuple(self.volumes),
            lines=(),
            tubes=(),
            elements=tuple(self.elements),
            passages=tuple(self.passages),
            hands=tuple(self.hands),
            switches=tuple(self.switches),
            networks=(network,),
            assumptions=tuple(self.assumptions),
            properties=properties,
            faults=(),
        )


def high(volume: int, reader: str = "valve.12") -> High:
    return High(volume, reader)


def demand(
    form: Form,
    condition: Condition,
    moment: Literal["at_rest", "every_moment"] = "every_moment",
    **more: object,
) -> Property:
    """A property with one instance; `more` are fields of the instance."""
    plain = Instance("", condition, "the condition")
    instance = msgspec.structs.replace(plain, **more)
    return Property("the property", form, moment, (instance,), SPAN)


def keeping(circuit: Circuit, *volumes: int) -> State:
    """The start, with air kept in these volumes."""
    begin = start(circuit)
    memory = tuple(index in volumes for index in range(len(circuit.volumes)))
    return msgspec.structs.replace(begin, memory=memory)
