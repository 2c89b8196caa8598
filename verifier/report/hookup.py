"""How a design is connected, by part and by tube, for the person who connects it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit, Element, Port, Quantity, Tube
from verifier.model.condition import All, Any, Condition, High, Not
from verifier.model.names import element_name, spoken
from verifier.model.strikes import JUNCTION
from verifier.report.misconnections import Misconnections

# ISO 11727: 1 supply, 2 and 4 outlets, 3 and 5 exhausts, pilots from 10.
NUMBERED = {"1": "supply", "2": "outlet", "4": "outlet", "3": "exhaust", "5": "exhaust"}


class PortConnection(Struct, frozen=True):
    """One port of a part. number: as it is written at the port.   purpose: in words.

    state: a tube is there, or it is open to the air as the kind's exhaust (`silencer`) or because
    the design leaves it open (`open`), or it is plugged.   tube: its name; label: what is written
    on it.   line: the line that the tube belongs to.   others: where that leads: the other end of
    the tube, or all other ends of a line with a junction.
    """

    number: str
    purpose: str
    state: Literal["tube", "silencer", "open", "plug"]
    tube: str = ""
    label: str = ""
    line: str = ""
    junction: bool = False
    others: tuple[str, ...] = ()


class PartConnections(Struct, frozen=True):
    """where, about: what design and kind say of it."""

    name: str
    where: str
    kind: str
    about: str
    ports: tuple[PortConnection, ...]


class TubeConnection(Struct, frozen=True):
    """One tube. ends: ports, supplies or the junction of its line.   length, bore: with units, ""
    if they are not given."""

    name: str
    label: str
    line: str
    ends: tuple[str, str]
    length: str
    bore: str
    about: str


class Hookup(Struct, frozen=True):
    """All of a design, in its order; parts without ports are left out."""

    design: str
    title: str
    revision: str
    parts: tuple[PartConnections, ...]
    tubes: tuple[TubeConnection, ...]


class HookupDocument(Struct, frozen=True):
    """What `shutproof hookup --json` prints. mistakes: null if they were not asked about."""

    hookup: Hookup
    mistakes: Misconnections | None
    cautions: tuple[str, ...]
    format: Literal["shutproof hookup"] = "shutproof hookup"
    version: Literal[1] = 1


def hookup_of(circuit: Circuit, parts: Collection[str] = ()) -> Hookup:
    """The same circuit gives the same lists. parts: only these, and the tubes that end at them."""
    ports = {one.name for one in circuit.ports if circuit.parts[one.part].name in parts}
    return Hookup(
        circuit.name,
        circuit.title,
        circuit.revision,
        tuple(
            PartConnections(
                part.name,
                part.doc,
                part.kind,
                part.kind_doc,
                tuple(_port(circuit, port) for port in part.ports),
            )
            for part in circuit.parts
            if part.ports and (not parts or part.name in parts)
        ),
        tuple(
            _tube(circuit, tube)
            for tube in circuit.tubes
            if not parts or ports.intersection(tube.ends)
        ),
    )


# ---- ports
def _port(circuit: Circuit, number: int) -> PortConnection:
    port = circuit.ports[number]
    purpose = purpose_of(circuit, number)
    if port.state != "piped":
        open_as: Literal["silencer", "open"] = "silencer" if port.exhaust else "open"
        return PortConnection(port.label, purpose, "plug" if port.state == "plugged" else open_as)
    tube = tube_at(circuit, port)
    line = circuit.lines[tube.line]
    ends = [end for one in line.tubes for end in circuit.tubes[one].ends if end != JUNCTION]
    return PortConnection(
        port.label,
        purpose,
        "tube",
        tube.name,
        tube.label,
        line.name,
        len(line.tubes) > 1,
        tuple(end for end in ends if end != port.name),
    )


def tube_at(circuit: Circuit, port: Port) -> Tube:
    """The tube that ends at a piped port."""
    return next(tube for tube in circuit.tubes if port.name in tube.ends)


def purpose_of(circuit: Circuit, number: int) -> str:
    """What the port is for: by its number (ISO 11727), by what its pressure does, by where air goes
    from it."""
    port = circuit.ports[number]
    said = []
    if port.label in NUMBERED:
        said.append(NUMBERED[port.label])
    elif port.exhaust:
        said.append("exhaust")
    does = tuple(dict.fromkeys(_does(circuit, number)))
    ways = tuple(dict.fromkeys(_ways(circuit, number)))
    if does:
        said.append(f"{'' if said or ways else 'pilot, '}{', '.join(does)}")
    if ways and port.label not in NUMBERED and not port.exhaust:
        said.append(f"joined to {', '.join(ways)}")
    return "; ".join(said) or "joined to nothing inside"


def _does(circuit: Circuit, port: int) -> Iterator[str]:
    """What air at the port, or none, does to the part's own elements."""
    part = circuit.ports[port].part
    for index in circuit.parts[part].elements:
        element = circuit.elements[index]
        name = element_name(circuit, index)
        who = "it" if name == circuit.parts[part].name else element.label
        for move in element.moves:
            for with_air in _polarity(move.when, port):
                there = spoken(element.positions[move.target])
                yield f"{'air' if with_air else 'no air'} here takes {who} to {there}"
        if _only_air_holds(element, port):
            there = spoken(element.positions[element.otherwise or 0])
            yield f"without air the spring takes {who} to {there}"


def _only_air_holds(element: Element, port: int) -> bool:
    """Whether nothing but air here moves the element away from where its spring brings it."""
    return element.otherwise is not None and all(
        list(_polarity(move.when, port)) == [True] for move in element.moves
    )


def _polarity(condition: Condition, port: int, value: bool = True) -> Iterator[bool]:
    """For each time that the condition speaks of the port: whether air helps to meet it."""
    if isinstance(condition, Not):
        yield from _polarity(condition.of, port, not value)
    elif isinstance(condition, All | Any):
        for one in condition.of:
            yield from _polarity(one, port, value)
    elif isinstance(condition, High) and condition.port == port:
        yield value


def _ways(circuit: Circuit, port: int) -> Iterator[str]:
    """Ports of the part that air can pass to or from, and when."""
    for passage in circuit.passages:
        if port not in passage.ports:
            continue
        mine = passage.ports.index(port)
        other = circuit.ports[passage.ports[1 - mine]].label
        when = " and ".join(
            " or ".join(spoken(circuit.elements[w.element].positions[p]) for p in w.positions)
            for w in passage.where
        )
        side = "" if not passage.one_way else " (from here)" if mine == 0 else " (to here)"
        narrow = " through a restriction" if passage.bore == "restricted" else ""
        yield f"{other}{side}{f' when {when}' if when else ''}{narrow}"


# ---- tubes
def _tube(circuit: Circuit, tube: Tube) -> TubeConnection:
    line = circuit.lines[tube.line]
    ends = (_tube_end(line.name, tube.ends[0]), _tube_end(line.name, tube.ends[1]))
    length, bore = _measure(tube.length), _measure(tube.bore)
    return TubeConnection(tube.name, tube.label, line.name, ends, length, bore, line.doc)


def _tube_end(line: str, end: str) -> str:
    return f"junction of {line}" if end == JUNCTION else end


def _measure(quantity: Quantity | None) -> str:
    """`3.5 m`; a fraction that has no end as decimals stays one."""
    if quantity is None:
        return ""
    number, below = quantity.numerator, quantity.denominator
    left = below
    for prime in (2, 5):
        while left % prime == 0:
            left //= prime
    if left != 1:
        return f"{number}/{below} {quantity.unit}"
    return f"{_decimal(number, below)} {quantity.unit}"


def _decimal(number: int, below: int) -> str:
    """Exact digits of a fraction that has an end as decimals."""
    whole, rest = divmod(number, below)
    digits = ""
    while rest:
        digit, rest = divmod(rest * 10, below)
        digits += str(digit)
    return f"{whole}.{digits}" if digits else str(whole)
