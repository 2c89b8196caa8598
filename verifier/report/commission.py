"""A test procedure for a finished trailer, as data."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct


class Look(Struct, frozen=True):
    """What is looked at, what it must show, and which faults cannot show that, whatever moves
    first (those that no step before reveals)."""

    at: str
    shows: str
    saw: str
    reveals: tuple[str, ...]


class SheetStep(Struct, frozen=True):
    """number: from 1. does: what is done. did: the same as a line of a run. looks: once all is at
    rest."""

    number: int
    does: str
    did: tuple[str, ...]
    looks: tuple[Look, ...]


class Danger(Struct, frozen=True):
    """With this fault a step can do what a property forbids, before the sheet has revealed it."""

    fault: str
    step: int
    property: str


class Unrevealed(Struct, frozen=True):
    """why: never = no procedure is sure to reveal it, which is proved; hides = it got through this
    procedure, in a run that was replayed; open = neither is known. words: the reason, or who."""

    fault: str
    why: Literal["never", "hides", "open"]
    words: str = ""


class Procedure(Struct, frozen=True):
    """taken: what is so before the first step. faults, wrong: how many single faults and wrong
    connections were considered. exact: whether steps and looks are fewest, among the operations
    that were tried out. greedy, every_valve: how many steps other procedures need, and how many
    faults those reveal.
    """

    design: str
    title: str
    revision: str
    file: str
    taken: tuple[str, ...]
    steps: tuple[SheetStep, ...]
    faults: int
    wrong: int
    revealed: int
    revealed_wrong: int
    unrevealed: tuple[Unrevealed, ...]
    dangers: tuple[Danger, ...]
    hazards: tuple[str, ...]
    exact: bool
    greedy: tuple[int, int]
    every_valve: tuple[int, int]
    not_tried: tuple[str, ...] = ()
    restless: tuple[str, ...] = ()
    format: Literal["shutproof procedure"] = "shutproof procedure"
    version: Literal[1] = 1


class ProcedureResult(Struct, frozen=True):
    procedure: Procedure
    cautions: tuple[str, ...]
