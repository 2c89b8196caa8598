"""A kind read once: names resolved to places in its own lists, ready to be stamped out per part.

In the conditions of a template, `High.volume`, `At.element`, `Hand.hand` and `Setting.switch`
count the kind's own ports, elements, hands and surroundings; `Hand(WORKED)` stands for what works
the part.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.diagnostics.span import Span
from verifier.model.circuit import Where
from verifier.model.condition import Condition
from verifier.syntax import tree

WORKED = -1

Medium = Literal["liquid", "vapour"]
MEDIA: tuple[Medium, Medium] = ("liquid", "vapour")


class PortTemplate(Struct, frozen=True):
    name: str
    exhaust: bool


class MoveTemplate(Struct, frozen=True):
    target: int
    when: Condition
    span: Span


class ElementTemplate(Struct, frozen=True):
    name: str
    positions: tuple[str, ...]
    start: int
    moves: tuple[MoveTemplate, ...]
    otherwise: int | None
    span: Span


class LegTemplate(Struct, frozen=True):
    """A passage or way between two of the kind's ports (of air, or of one medium)."""

    start: int
    end: int
    one_way: bool
    restricted: bool
    where: tuple[Where, ...]
    span: Span


class EffectTemplate(Struct, frozen=True):
    """As `FaultEffect`, with the kind's own numbering; medium None: the ports are those of air."""

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
    element: int | None
    position: int | None
    ports: tuple[int, ...]
    hand: int | None
    one_way: bool
    medium: Medium | None


class FaultTemplate(Struct, frozen=True):
    name: str
    doc: str
    effects: tuple[EffectTemplate, ...]
    passing: bool
    source: str
    span: Span


class KindTemplate(Struct, frozen=True):
    """Invariant: made without mistakes; every index is in range of the kind's own lists."""

    name: str
    doc: str
    ports: tuple[PortTemplate, ...]
    liquid_ports: tuple[str, ...]
    vapour_ports: tuple[str, ...]
    elements: tuple[ElementTemplate, ...]
    hands: tuple[tree.HandItem, ...]
    switches: tuple[tree.Surroundings, ...]
    passages: tuple[LegTemplate, ...]
    liquid_ways: tuple[LegTemplate, ...]
    vapour_ways: tuple[LegTemplate, ...]
    means: dict[str, Condition]
    roles: tuple[str, ...]
    faults: tuple[FaultTemplate, ...]
    uses_worked: bool
    span: Span

    def medium_ports(self, medium: Medium) -> tuple[str, ...]:
        return self.liquid_ports if medium == "liquid" else self.vapour_ports

    def medium_ways(self, medium: Medium) -> tuple[LegTemplate, ...]:
        return self.liquid_ways if medium == "liquid" else self.vapour_ways

    def port_named(self, name: str) -> int | None:
        return next((i for i, port in enumerate(self.ports) if port.name == name), None)
