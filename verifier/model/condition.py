"""Conditions over a circuit: what moves, properties and assumptions say (M1, M2, Q1)."""

from __future__ import annotations

from msgspec import Struct

# A condition cannot be part of itself, so the collector of cycles need not look at any (gc=False).


class Always(Struct, frozen=True, gc=False, tag="always", tag_field="is"):
    """A condition that is always true (`value`) or always false."""

    value: bool


class Not(Struct, frozen=True, gc=False, tag="not", tag_field="is"):
    of: Condition


class All(Struct, frozen=True, gc=False, tag="all", tag_field="is"):
    """Conjunction; true when empty."""

    of: tuple[Condition, ...]


class Any(Struct, frozen=True, gc=False, tag="any", tag_field="is"):
    """Disjunction; false when empty."""

    of: tuple[Condition, ...]


class High(Struct, frozen=True, gc=False, tag="high", tag_field="is"):
    """Volume `volume` reads as pressurised. Atoms with the same `reader` share one reading.

    A volume that can only be high reads true, one that can only be low reads false; a contested
    one may be read either way, independently by each reader (P5). In a move the reader is the
    port (`vent[1].14`), in a property the volume (`line lift[1]`).
    port: of the circuit, if it is said of a port: where a fault cuts that off from its line, its
    own side is meant (F3).
    """

    volume: int
    reader: str
    port: int | None = None


class At(Struct, frozen=True, gc=False, tag="at", tag_field="is"):
    """Element `element` stands in one of `positions`."""

    element: int
    positions: tuple[int, ...]


class Hand(Struct, frozen=True, gc=False, tag="hand", tag_field="is"):
    """Hand `hand` acts: a held one as the state says, a momentary one in this very step."""

    hand: int


class Setting(Struct, frozen=True, gc=False, tag="setting", tag_field="is"):
    """Switch of the surroundings `switch` stands at one of `values`."""

    switch: int
    values: tuple[int, ...]


class Path(Struct, frozen=True, gc=False, tag="path", tag_field="is"):
    """An open path in network `network` (index into Circuit.networks) between two places.

    directed: from `start` to `end` respecting one-way legs (word `flow`/`vapour`);
    otherwise joined in any direction (word `joined`/`vapour_joined`).
    """

    network: int
    start: int
    end: int
    directed: bool


class AtRest(Struct, frozen=True, gc=False, tag="at_rest", tag_field="is"):
    """No element must move (M6). Never inside a move or an assumption."""


Condition = Always | Not | All | Any | High | At | Hand | Setting | Path | AtRest
