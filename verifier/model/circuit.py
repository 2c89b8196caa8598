"""The elaborated circuit: everything a design means, names resolved, families expanded.

This is the one value that compilers, simulator, studies and the JSON export share. Every reference
between things is an index into a tuple of `Circuit`. Values are valid once
`verifier.model.wellformed` has accepted them. Rule numbers are those of grammar/REFERENCE.md.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from msgspec import Struct

from verifier.diagnostics.span import Span
from verifier.model.condition import Condition


class Quantity(Struct, frozen=True):
    """An exact number with its unit, for example 5/2 and "m"."""

    numerator: int
    denominator: int
    unit: str

    @property
    def value(self) -> Fraction:
        return Fraction(self.numerator, self.denominator)


class Supply(Struct, frozen=True):
    """A source of compressed air. `switch`: present, absent and, if it may be, weak."""

    name: str
    switch: int
    volume: int
    span: Span
    doc: str = ""


class Port(Struct, frozen=True):
    """A pneumatic port of a part. `name` is `PART.PORT`. It belongs to exactly one volume."""

    name: str
    part: int
    label: str
    volume: int
    exhaust: bool
    state: Literal["piped", "atmosphere", "plugged"]
    span: Span


class Part(Struct, frozen=True):
    """An instance of a kind. `assembly` is the assembled instance that it stands in, or ""."""

    name: str
    kind: str
    ports: tuple[int, ...]
    elements: tuple[int, ...]
    hands: tuple[int, ...]
    switches: tuple[int, ...]
    roles: tuple[str, ...]
    span: Span
    assembly: str = ""
    doc: str = ""
    kind_doc: str = ""
    quantities: tuple[tuple[str, Quantity], ...] = ()  # as given with the part: set = 6 bar


class Volume(Struct, frozen=True):
    """One volume at one pressure: a healthy line, or a single port left open or plugged.

    open_air: joined to the atmosphere at full bore. `line` is the index of its line, or None.
    """

    name: str
    ports: tuple[int, ...]
    open_air: bool
    supplies: tuple[int, ...]
    line: int | None


class Tube(Struct, frozen=True):
    """One tube of a line. An end is a port, a supply (`supply NAME`) or the line's junction."""

    name: str
    line: int
    ends: tuple[str, str]
    length: Quantity | None
    bore: Quantity | None
    label: str
    span: Span


class Line(Struct, frozen=True):
    name: str
    volume: int
    tubes: tuple[int, ...]
    span: Span
    doc: str = ""


class Move(Struct, frozen=True):
    """`to target when condition`: a pilot, a hand, a cam."""

    target: int
    when: Condition
    span: Span


class Element(Struct, frozen=True):
    """A moving element (M1): ordered positions and moves, then `otherwise` (None: it stays).

    fault: it is no thing that moves but a fault that may strike, and assumptions may speak of it.
    doc: what the fault is, in words.
    """

    name: str
    part: int
    label: str
    positions: tuple[str, ...]
    start: int
    moves: tuple[Move, ...]
    otherwise: int | None
    span: Span
    fault: bool = False
    doc: str = ""


class Where(Struct, frozen=True, gc=False):
    """Element `element` stands in one of `positions` (a factor of a way's condition)."""

    element: int
    positions: tuple[int, ...]


class Passage(Struct, frozen=True):
    """Air path inside a part between the volumes of two ports, open when every `where` is met.

    one_way: air passes from `start` to `end` only.
    tube: it is a tube that is whole: cut off, both its ends keep one pressure (P7). Once shut it is
    not open again.
    """

    part: int
    ports: tuple[int, int]
    start: int
    end: int
    bore: Literal["full", "restricted"]
    one_way: bool
    where: tuple[Where, ...]
    span: Span
    tube: bool = False


class HandControl(Struct, frozen=True):
    """A way for the operator to act (O1). held: it can be kept on, and is state; else momentary."""

    name: str
    part: int
    label: str
    held: bool
    starts_on: bool
    span: Span


class Switch(Struct, frozen=True):
    """A switch of the surroundings (O2): any value may follow any other at any time."""

    name: str
    part: int | None
    label: str
    values: tuple[str, ...]
    start: int
    span: Span


class Way(Struct, frozen=True, gc=False):
    """A leg of a liquid or vapour network between two places, open when every `where` is met."""

    part: int | None
    start: int
    end: int
    one_way: bool
    where: tuple[Where, ...]


class Network(Struct, frozen=True):
    """Connectivity of liquid or vapour. Inner nodes (ports of parts in a chain) are places too."""

    medium: Literal["liquid", "vapour"]
    places: tuple[str, ...]
    ways: tuple[Way, ...]


class Assumption(Struct, frozen=True):
    """Narrows O1 and O2 (O3). `condition` speaks of hands and switches only."""

    name: str
    reason: str
    condition: Condition
    span: Span


class Setpoint(Struct, frozen=True, gc=False):
    """One action of a procedure: a hand (on/off) or a switch put to a value, then wait for rest."""

    hand: int | None
    switch: int | None
    value: int
    words: str


class Instance(Struct, frozen=True, gc=False):
    """One member of a quantified property. `label` is "" or for example "i = 1, j = 2".

    never: `condition` must not occur.   always: `condition` must not fail.
    possible: `condition` must be reachable.
    order: `condition` only after `first`, which must still be true.
    recovers: after `procedure` and rest, `condition` is true.
    triggers: each must be reachable (at the property's moments), else the instance is vacuous.
    """

    label: str
    condition: Condition
    words: str
    triggers: tuple[Condition, ...] = ()
    trigger_words: tuple[str, ...] = ()
    first: Condition | None = None
    first_words: str = ""
    procedure: tuple[Setpoint, ...] = ()


class Tolerating(Struct, frozen=True):
    """That a property must hold although faults strike, at most so many in one run (None: all).

    faults: names of those considered; None: all of the circuit that are not excluded.
    words: as said, for example "any 1 fault".   excluded: those that it would consider, too, were
    they not excluded; None: all that are.
    """

    most: int | None
    faults: tuple[str, ...] | None
    words: str
    excluded: tuple[str, ...] | None = None


class Property(Struct, frozen=True):
    name: str
    form: Literal["never", "always", "possible", "order", "recovers"]
    moment: Literal["at_rest", "every_moment"]
    instances: tuple[Instance, ...]
    span: Span
    doc: str = ""
    tolerating: Tolerating | None = None


class Acceptance(Struct, frozen=True):
    """A race that the design accepts (Q11): where these elements stop may depend on more than the
    event, if hands and surroundings, as they stand still after it, meet the condition."""

    elements: tuple[int, ...]
    condition: Condition
    words: str
    reason: str
    span: Span


class FaultEffect(Struct, frozen=True):
    """What a fault does while it is present. Data for the fault studies.

    sticks: `element` stays.                    shifts: `element` may go to `position` unbidden.
    no_spring: `element` loses its otherwise.   leaks/passes: passage `ports`, restricted/full bore.
    vents/bursts: first of `ports` to atmosphere, restricted/full.  blocks: the first of `ports`, or
    the passages between both.                  held/dead: `hand` is on / has no effect.
    With a medium the fault is on a way of that network, between `places`, and `ports` is empty.
    one_way: from the first port or place to the second only.
    """

    effect: Literal[
        "sticks",
        "shifts",
        "no_spring",
        "leaks",
        "passes",
        "vents",
        "bursts",
        "blocks",
        "held",
        "dead",
    ]
    element: int | None = None
    position: int | None = None
    ports: tuple[int, ...] = ()
    hand: int | None = None
    one_way: bool = False
    medium: Literal["liquid", "vapour"] | None = None
    places: tuple[str, ...] = ()


class Fault(Struct, frozen=True):
    name: str
    part: int
    label: str
    effects: tuple[FaultEffect, ...]
    passing: bool
    source: str
    span: Span
    doc: str = ""


class Cause(Struct, frozen=True):
    """One cause of several faults, which then strike together. faults: their names."""

    name: str
    faults: tuple[str, ...]
    source: str
    span: Span
    doc: str = ""


class Exclusion(Struct, frozen=True):
    """An assumption that none of these faults happens (F4). words: the faults, as said."""

    faults: tuple[str, ...]
    words: str
    reason: str
    source: str
    span: Span


class Rate(Struct, frozen=True):
    """How often a fault happens: so many times an hour; or by wear, if a tenth of the things fail
    dangerously within `b10d` cycles, at so many cycles in a year of 8760 h."""

    per_hour: float | None
    b10d: float | None
    cycles_per_year: float | None
    source: str


class RateOf(Struct, frozen=True):
    faults: tuple[str, ...]
    rate: Rate
    span: Span


class Circuit(Struct, frozen=True):
    """A design, elaborated. Invariant: accepted by `wellformed.check`."""

    name: str
    title: str
    revision: str
    supplies: tuple[Supply, ...]
    parts: tuple[Part, ...]
    ports: tuple[Port, ...]
    volumes: tuple[Volume, ...]
    lines: tuple[Line, ...]
    tubes: tuple[Tube, ...]
    elements: tuple[Element, ...]
    passages: tuple[Passage, ...]
    hands: tuple[HandControl, ...]
    switches: tuple[Switch, ...]
    networks: tuple[Network, ...]
    assumptions: tuple[Assumption, ...]
    properties: tuple[Property, ...]
    faults: tuple[Fault, ...]
    accepted: tuple[Acceptance, ...] = ()
    causes: tuple[Cause, ...] = ()
    exclusions: tuple[Exclusion, ...] = ()
    rates: tuple[RateOf, ...] = ()  # each fault in one at most
    runs_on: str = ""  # reason why the design is meant never to come to rest; "" if it must


def moving(circuit: Circuit, part: int) -> tuple[int, ...]:
    """The elements of a part, without faults that may strike it."""
    return tuple(e for e in circuit.parts[part].elements if not circuit.elements[e].fault)
