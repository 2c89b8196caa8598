"""How a state and a choice of a step are told in bits.

Every valuation of the bits means exactly one state, so no code is invalid and nothing has to be
proved about codes:
- element with n positions: bits 1 to n - 1; it stands at position k or beyond when bits 1 to k are
  all true;
- held hand: one bit;
- switch with n values: a bit for each value but the last; it stands at the first value whose bit is
  true, else at the last one;
- volume that can be trapped: one bit, the pressure it kept (P4).
A choice of a step has the next bits of hands and switches (O1, O2), a bit for each momentary hand,
for each element whether it moves, and which way where both are demanded (M3, M4), and for each
volume that can be trapped whether it comes out empty where it may (P4, P5).
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy

from verifier.model.circuit import Circuit, Element, Switch, Where
from verifier.transition.graph import Graph
from verifier.transition.system import Choice


class Encoding:
    """Input nodes of a graph for the bits of a circuit, and literals that say what they mean.

    elements, switches: per thing the nodes of its bits.   held: node of each held hand.
    memory: node of each volume that can be trapped, once `keep` was asked for it.
    moved: the literals of the bits that an element has after the step, once it is known.
    next_held, next_switches, acting, go, down, empty: nodes of the choice bits.
    """

    def __init__(self, graph: Graph, circuit: Circuit) -> None:
        self.graph = graph
        self.circuit = circuit
        self.choices: list[Choice] = []
        self.elements = tuple(self._inputs(element_names(e)) for e in circuit.elements)
        self.held = {
            h: self._inputs([hand.name])[0] for h, hand in enumerate(circuit.hands) if hand.held
        }
        self.switches = tuple(self._inputs(switch_names(s)) for s in circuit.switches)
        self.memory: dict[int, int] = {}
        self.next_held = {
            h: self._choice(f"next {circuit.hands[h].name}", 2 * node)
            for h, node in self.held.items()
        }
        self.next_switches = tuple(
            tuple(
                self._choice(f"next {name}", 2 * node)
                for name, node in zip(switch_names(switch), nodes, strict=True)
            )
            for switch, nodes in zip(circuit.switches, self.switches, strict=True)
        )
        self.acting = {
            h: self._choice(f"{hand.name} acts")
            for h, hand in enumerate(circuit.hands)
            if not hand.held
        }
        self.go: dict[int, int] = {}
        self.down: dict[int, int] = {}
        self.empty: dict[int, int] = {}
        self.moved: dict[int, tuple[int, ...]] = {}
        self._tubes = tuple((p.start, p.end, p.where) for p in circuit.passages if p.tube)
        self._at: dict[tuple[int, tuple[int, ...]], int] = {}

    def on(self, graph: Graph) -> Encoding:
        """The same bits, with what is said of them built on a copy of the graph. It has the inputs
        made so far; none may be added to it."""
        other = copy(self)
        other.graph = graph
        other._at = self._at.copy()
        return other

    def keep(self, volume: int) -> int:
        """The literal of what a volume that can be trapped has kept; made on first use."""
        if volume not in self.memory:
            name = self.circuit.volumes[volume].name
            self.memory[volume] = self._inputs([kept_name(name)])[0]
            self.empty[volume] = self._choice(f"{name} comes out empty")
        return 2 * self.memory[volume]

    def goes(self, element: int) -> int:
        """The literal of the choice that an element moves."""
        if element not in self.go:
            name = f"{self.circuit.elements[element].name} moves"
            self.go[element] = self._choice(name, moves=True)
        return 2 * self.go[element]

    def goes_down(self, element: int) -> int:
        """The literal of the choice of the lower position where either way is demanded."""
        if element not in self.down:
            thing = self.circuit.elements[element]
            name = f"{thing.name} moves towards {thing.positions[0]}"
            self.down[element] = self._choice(name)
        return 2 * self.down[element]

    def beyond(self, element: int, position: int, following: bool = False) -> int:
        """The element stands at `position` or a later one, now or after the step; `position` may be
        one past the last."""
        nodes = self.elements[element]
        if position > len(nodes):
            return 0
        if following:
            return self.graph.all(self.moved[element][:position])
        return self.graph.all(2 * node for node in nodes[:position])

    def at(self, element: int, positions: Sequence[int], following: bool = False) -> int:
        """The element stands in one of the positions, now or after the step."""
        if following:
            return self._stands(element, positions, following)
        key = (element, tuple(positions))
        known = self._at.get(key)
        if known is None:
            known = self._at[key] = self._stands(element, positions)
        return known

    def _stands(self, element: int, positions: Sequence[int], following: bool = False) -> int:
        wanted, runs = set(positions), []
        count = len(self.circuit.elements[element].positions)
        for first in (p for p in range(count) if p in wanted and p - 1 not in wanted):
            end = next(p for p in range(first, count + 1) if p not in wanted)
            past = self.beyond(element, end, following)
            runs.append(self.graph.both(self.beyond(element, first, following), past ^ 1))
        return self.graph.any(runs)

    def met(self, where: Sequence[Where], following: bool = False) -> int:
        """Every element named stands in one of the positions named, now or after the step."""
        return self.graph.all(self.at(w.element, w.positions, following) for w in where)

    def comes_out_empty(self, volume: int) -> int:
        """The choice that a volume comes out empty where it may; at the far end of a whole tube it
        is that of the near end (P7)."""
        own = 2 * self.empty[volume]
        graph = self.graph
        for start, end, where in self._tubes:
            if end == volume and start in self.empty:
                whole = self.met(where, following=True)
                own = graph.either(
                    graph.both(whole, 2 * self.empty[start]), graph.both(whole ^ 1, own)
                )
        return own

    def setting(self, switch: int, values: Sequence[int], following: bool = False) -> int:
        """The switch stands at one of the values, now or (`following`) after the step."""
        nodes = (self.next_switches if following else self.switches)[switch]
        last = len(nodes)
        wanted = set(values)
        other = last in wanted
        # The last value has no bit of its own, so a set with it is said by what it leaves out.
        listed = [v for v in range(last) if (v in wanted) != other]
        literals = [
            self.graph.all([2 * nodes[v], *(2 * node + 1 for node in nodes[:v])]) for v in listed
        ]
        return self.graph.any(literals) ^ int(other)

    def hand(self, hand: int, following: bool = False) -> int:
        """The held hand is on, now or after the step."""
        return 2 * (self.next_held if following else self.held)[hand]

    def _inputs(self, names: Sequence[str]) -> tuple[int, ...]:
        return tuple(self.graph.input(name) >> 1 for name in names)

    def _choice(self, name: str, still: int = 0, *, moves: bool = False) -> int:
        node = self.graph.input(name) >> 1
        self.choices.append(Choice(name, node, still, moves))
        return node


def kept_name(volume: str) -> str:
    """What the bit of a volume that can be trapped says."""
    return f"{volume} kept air"


def element_names(element: Element) -> list[str]:
    """What each bit of an element's position says when the bits before it are true."""
    names = element.positions
    return [f"{element.name} is {' or '.join(names[k:])}" for k in range(1, len(names))]


def switch_names(switch: Switch) -> list[str]:
    """What each bit of a switch says when the bits before it are false."""
    return [f"{switch.name} is {value}" for value in switch.values[:-1]]


def element_code(position: int, count: int) -> tuple[bool, ...]:
    """The bits of an element with `count` positions."""
    return tuple(position >= k for k in range(1, count))


def element_position(code: Sequence[bool]) -> int:
    """The position that the bits of an element mean."""
    return next((k for k, bit in enumerate(code) if not bit), len(code))


def switch_code(value: int, count: int) -> tuple[bool, ...]:
    """The bits of a switch with `count` values."""
    return tuple(value == k for k in range(count - 1))


def switch_value(code: Sequence[bool]) -> int:
    """The value that the bits of a switch mean."""
    return next((k for k, bit in enumerate(code) if bit), len(code))
