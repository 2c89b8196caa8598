"""What is let go and what keeps to its rules, as inputs of a graph (rule Q13)."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.transition.graph import Graph

Kind = Literal["part", "tube"]
What = Literal["works", "is tight"]


class Duty(Struct, frozen=True, order=True):
    """What a part or a tube can be let go of: that it works, or that it is tight. `index` is the
    circuit's."""

    kind: Kind
    index: int
    what: What

    @property
    def working(self) -> Duty:
        """The duty to work, of the same part or tube."""
        return Duty(self.kind, self.index, "works")


def duties(circuit: Circuit) -> tuple[Duty, ...]:
    """All that can be let go: that parts work, that tubes do, that parts are tight, that tubes
    are."""
    whats: tuple[What, ...] = ("works", "is tight")
    things: tuple[tuple[Kind, int], ...] = (
        ("part", len(circuit.parts)),
        ("tube", len(circuit.tubes)),
    )
    return tuple(
        Duty(kind, index, what)
        for what in whats
        for kind, count in things
        for index in range(count)
    )


class Loosening:
    """Inputs of a graph: of each duty, that it is kept; and what is done where it is not.

    keeps: the input node of each duty.   free: input nodes that nothing binds, at any moment.
    tube_at: the tube that ends at each port, by the port's index; tube_at_supply: at each supply.
    """

    def __init__(self, graph: Graph, circuit: Circuit) -> None:
        self.graph = graph
        self.circuit = circuit
        self.keeps = {duty: graph.input(words(circuit, duty)) >> 1 for duty in duties(circuit)}
        self.free: list[int] = []
        ports = {port.name: p for p, port in enumerate(circuit.ports)}
        supplies = {f"supply {supply.name}": s for s, supply in enumerate(circuit.supplies)}
        self.tube_at: dict[int, int] = {}
        self.tube_at_supply: dict[int, int] = {}
        for t, tube in enumerate(circuit.tubes):
            for name in tube.ends:
                if name in ports:
                    self.tube_at[ports[name]] = t
                elif name in supplies:
                    self.tube_at_supply[supplies[name]] = t

    def works(self, part: int) -> int:
        """The literal of: the part works."""
        return 2 * self.keeps[Duty("part", part, "works")]

    def passes(self, tube: int) -> int:
        """The literal of: the tube works, it is not blocked."""
        return 2 * self.keeps[Duty("tube", tube, "works")]

    def is_tight(self, kind: Kind, index: int) -> int:
        return 2 * self.keeps[Duty(kind, index, "is tight")]

    def may(self, what: str) -> int:
        """A fresh input that is as it likes."""
        literal = self.graph.input(what)
        self.free.append(literal >> 1)
        return literal

    def loose(self, keeps: int, what: str) -> int:
        """Not `keeps`, and as it likes even then."""
        return self.graph.both(keeps ^ 1, self.may(what))

    def either(self, keeps: int, own: int, what: str) -> int:
        """`own` of what is kept, else as it likes."""
        return self.graph.either(self.graph.both(keeps, own), self.loose(keeps, what))


def words(circuit: Circuit, duty: Duty) -> str:
    """The duty in words, for example "vent[1] works"."""
    if duty.kind == "part":
        return f"{circuit.parts[duty.index].name} {duty.what}"
    return f"tube {circuit.tubes[duty.index].name} {duty.what}"
