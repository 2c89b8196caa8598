"""Hand-written truth tables of kinds: reading them, and trying a kind out with the simulator."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path

from verifier.model.circuit import Circuit
from verifier.model.load import load_text
from verifier.model.run import State
from verifier.simulation.movement import at_rest
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import canonical, kept, moved, start
from verifier.syntax import tree

TABLES = Path(__file__).with_name("truth_tables.txt")
ALWAYS = "always"
SUPPLY = {"on": "present", "off": "absent"}

Leg = tuple[str, str, str]  # what passes (air, restricted, liquid, vapour), from, to
Signals = Mapping[str, str]


@dataclass(frozen=True)
class Row:
    """`origin` is a position or "any"; `signals` the values that it asks for."""

    text: str
    origin: str
    signals: Signals
    rest: tuple[str, ...]

    def covers(self, origin: str, signals: Signals) -> bool:
        return self.origin in ("any", origin) and all(
            signals[name] == value for name, value in self.signals.items()
        )


@dataclass
class Table:
    """One kind's truth table. `legs` has one-way legs; a leg both ways stands there twice."""

    kind: str
    inputs: tuple[str, ...]
    legs: dict[str, frozenset[Leg]] = field(default_factory=dict)
    rows: list[Row] = field(default_factory=list)
    words: dict[str, Signals] = field(default_factory=dict)


def read_tables(text: str) -> dict[str, Table]:
    """Every table by the name of its kind. Raises ValueError for a kind with two."""
    tables: dict[str, Table] = {}
    table = Table("", ())
    for line in text.splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        if not line.startswith(" "):
            kind, _, inputs = line.partition(" inputs")
            if kind in tables:
                raise ValueError(f"two tables for {kind}")
            table = tables[kind] = Table(kind, tuple(inputs.split()))
        elif line.startswith("  means "):
            word, _, named = line.removeprefix("  means ").partition("|")
            table.words[word.strip()] = read_signals(named)
        elif "|" in line:
            table.rows.append(_row(line.strip()))
        else:
            position, _, legs = line.strip().partition(":")
            table.legs[position] = read_legs(legs)
    return tables


def _row(text: str) -> Row:
    origin, _, rest = text.partition("|")
    named, _, places = rest.partition("->")
    return Row(text, origin.strip(), read_signals(named), tuple(places.strip().split("/")))


def read_signals(text: str) -> Signals:
    found = {}
    for word in text.split():
        name, _, value = word.partition("=")
        found[name.lstrip("!")] = value or ("off" if word.startswith("!") else "on")
    return found


def read_legs(text: str) -> frozenset[Leg]:
    found: set[Leg] = set()
    what = "air"
    for word in text.replace(",", " , ").split():
        if word == ",":
            what = "air"
        elif word in ("restricted", "liquid", "vapour"):
            what = word
        elif ">" in word:
            here, there = word.split(">")
            found.add((what, here, there))
        else:
            here, there = word.split("-")
            found.update({(what, here, there), (what, there, here)})
    return frozenset(found)


class Trial:
    """One part `it` of a kind: each input on its own supply, other ports plugged, exhausts open."""

    def __init__(self, kind: tree.Kind, table: Table) -> None:
        self.table = table
        self.circuit: Circuit = load_text(design_of(kind, table)).circuit
        self.positions: tuple[str, ...] = (ALWAYS,)
        if self.circuit.elements:
            (element,) = self.circuit.elements
            self.positions = element.positions
        self.ports = {port.label: port.volume for port in self.circuit.ports}
        self.hands = {hand.label: n for n, hand in enumerate(self.circuit.hands)}
        self.switches = {
            s.name.removeprefix("it.").replace("worked_by", "worked"): n
            for n, s in enumerate(self.circuit.switches)
        }

    def signals(self) -> Iterator[dict[str, str]]:
        """Every combination of air at the inputs, hands that act and switches."""
        values: dict[str, tuple[str, ...]] = {}
        for name, number in self.switches.items():
            values[name] = self.circuit.switches[number].values
        for port in self.table.inputs:
            values[port] = ("on", "off")
            del values[f"air_{port}"]
        values.update((hand, ("on", "off")) for hand in self.hands)
        for chosen in product(*values.values()):
            yield dict(zip(values, chosen, strict=True))

    def states(self, origin: str, signals: Signals) -> tuple[list[State], tuple[int, ...]]:
        """The states with these signals, for all that trapped ports may hold; and who acts."""
        circuit = self.circuit
        positions = (self.positions.index(origin),) if circuit.elements else ()
        settings = list(start(circuit).settings)
        for name, number in self.switches.items():
            port = name.removeprefix("air_")
            wanted = signals[name] if port == name else SUPPLY[signals[port]]
            settings[number] = circuit.switches[number].values.index(wanted)
        on = {number: signals[hand] == "on" for hand, number in self.hands.items()}
        held = tuple(on[n] and hand.held for n, hand in enumerate(circuit.hands))
        acting = tuple(n for n, hand in enumerate(circuit.hands) if on[n] and not hand.held)
        memories = product((False, True), repeat=len(circuit.volumes))
        states = (State(positions, held, tuple(settings), memory) for memory in memories)
        return list(dict.fromkeys(canonical(circuit, state) for state in states)), acting

    def resting(self, origin: str, signals: Signals) -> list[State]:
        """Every state in which it can come to rest while the signals stay."""
        waiting, acting = self.states(origin, signals)
        found = dict.fromkeys(waiting)
        while waiting:
            state = waiting.pop()
            for positions in moved(self.circuit, state, acting):
                for memory in kept(self.circuit, state, positions, state.settings):
                    there = State(positions, state.hands, state.settings, memory)
                    if there not in found:
                        found[there] = None
                        waiting.append(there)
        return [state for state in found if at_rest(self.circuit, state, acting)]

    def position(self, state: State) -> str:
        return self.positions[state.positions[0]] if state.positions else ALWAYS

    def air_at(self, state: State, port: str) -> str:
        """What the simulator says of a port: fed, vented, both, or shut off."""
        air, volume = pressures(self.circuit, state), self.ports[port]
        return told(air.fed[volume], air.vented[volume])


def told(fed: bool, vented: bool) -> str:
    return "both" if fed and vented else "fed" if fed else "vented" if vented else "shut off"


def expected_air(legs: frozenset[Leg], fed: set[str], vented: set[str], port: str) -> str:
    """The same, read off the legs of a table: along them from air, or along them to atmosphere."""
    air = [(here, there) for what, here, there in legs if what in ("air", "restricted")]
    return told(
        bool(fed & reached(port, [(b, a) for a, b in air])), bool(vented & reached(port, air))
    )


def reached(port: str, links: list[tuple[str, str]]) -> set[str]:
    found = {port}
    while more := {there for here, there in links if here in found} - found:
        found |= more
    return found


def design_of(kind: tree.Kind, table: Table) -> str:
    """The trial as a design. A kind that something works is worked by a switch of that name."""
    own = [item for item in kind.items if isinstance(item, tree.Ports) and item.medium is None]
    ports = [name for item in own for name in item.names]
    worked = any("worked" in row.signals for row in table.rows)
    lines = ["design trial", "use standard"]
    if worked:
        lines.append("surroundings worked_by: off, on")
    lines.append(f"part it: {kind.name}" + (" worked by worked_by is on" if worked else ""))
    for port in ports:
        if port in table.inputs:
            lines += [f"supply air_{port}", f"line to_{port}: air_{port}, it.{port}"]
        else:
            lines.append(f"plug it.{port}")
    for medium in ("liquid", "vapour"):
        if any(what == medium for legs in table.legs.values() for what, _, _ in legs):
            lines += [f"place {medium}_before, {medium}_after"]
            lines += [f"{medium} {medium}_before - it - {medium}_after"]
    lines += [f'possible at every moment "{word}": {word}(it)' for word in table.words]
    return "\n".join(lines) + "\n"
