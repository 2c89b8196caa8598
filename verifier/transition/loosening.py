"""What is let go and what keeps to its rules, as inputs of a graph (rule Q11)."""

from __future__ import annotations

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.transition.graph import FALSE, TRUE, Graph


class Member(Struct, frozen=True, order=True):
    """A part or a tube; `index` is the circuit's."""

    kind: str
    index: int


def members(circuit: Circuit) -> tuple[Member, ...]:
    """All that can be let go: parts, then tubes."""
    parts = (Member("part", p) for p in range(len(circuit.parts)))
    return (*parts, *(Member("tube", t) for t in range(len(circuit.tubes))))


class Loosening:
    """Inputs of a graph: of each member, that it keeps to its rules; and what those let go do.

    keeps: the input node of each member.   free: input nodes that nothing binds, at any moment.
    end: the tube that ends at each port, by the port's index; supply_tube: at each supply.
    """

    def __init__(self, graph: Graph, circuit: Circuit) -> None:
        self.graph = graph
        self.circuit = circuit
        self.keeps = {
            member: graph.input(f"{name_of(circuit, member)} keeps to its rules") >> 1
            for member in members(circuit)
        }
        self.free: list[int] = []
        ports = {port.name: p for p, port in enumerate(circuit.ports)}
        supplies = {f"supply {supply.name}": s for s, supply in enumerate(circuit.supplies)}
        self.end: dict[int, int] = {}
        self.supply_tube: dict[int, int] = {}
        for t, tube in enumerate(circuit.tubes):
            for name in tube.ends:
                if name in ports:
                    self.end[ports[name]] = t
                elif name in supplies:
                    self.supply_tube[supplies[name]] = t

    def part(self, index: int) -> int:
        """The literal of: the part keeps to its rules."""
        return 2 * self.keeps[Member("part", index)]

    def tube(self, index: int | None) -> int:
        """The same of a tube; where there is none, nothing can be let go."""
        return TRUE if index is None else 2 * self.keeps[Member("tube", index)]

    def may(self, words: str) -> int:
        """A fresh literal that is as it likes."""
        literal = self.graph.input(words)
        self.free.append(literal >> 1)
        return literal

    def loose(self, keeps: int, words: str) -> int:
        """Not `keeps`, and as it likes even then."""
        return FALSE if keeps == TRUE else self.graph.both(keeps ^ 1, self.may(words))

    def either(self, keeps: int, own: int, words: str) -> int:
        """`own` of what keeps to its rules, else as it likes."""
        return self.graph.either(self.graph.both(keeps, own), self.loose(keeps, words))


def name_of(circuit: Circuit, member: Member) -> str:
    if member.kind == "part":
        return circuit.parts[member.index].name
    return f"tube {circuit.tubes[member.index].name}"
