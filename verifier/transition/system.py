"""A transition system over an and-inverter graph, and the properties compiled onto it."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.transition.graph import Graph


class Latch(Struct, frozen=True):
    """A state bit: `node` is its input node in the graph, `next` the literal it takes after a step.

    `name` is in trade names and ends up in lemmas: `vent[1].poppet is open`, `stop.pressed`,
    `tractor is present`, `line lift[1] kept air`, or a monitor bit.
    """

    name: str
    node: int
    start: bool
    next: int


class Choice(Struct, frozen=True):
    """A free bit of a step: `node` is its input node.

    still: literal over the latches, the value it takes in the step in which nothing happens.
    moves: true in the step in which everything moves that may; a hint to those who search.
    """

    name: str
    node: int
    still: int = 0
    moves: bool = False


class Definition(Struct, frozen=True):
    """A named literal (`line lift[1] can be high`, `vent[1].poppet must move` …), in the order in
    which definitions build on one another."""

    name: str
    literal: int


class Goal(Struct, frozen=True, gc=False):
    """A question for an engine: can `bad` become true? A literal over the latches only.

    `name` identifies it in results, for example `bad:discharge with a vent shut[i = 1, j = 2]`.
    """

    name: str
    bad: int


class System(Struct, frozen=True):
    """States are valuations of the latches, steps are valuations of the choices.

    `step_allowed` is a literal over latches and choices (assumptions O3, each named in
    `assumptions`, and the validity of encodings of choices); a step needs it to be true.
    Every state that satisfies `state_allowed` (over latches) has an allowed step; that start
    satisfies it, and that allowed steps keep it, are obligations that evidence discharges.
    """

    graph: Graph
    latches: tuple[Latch, ...]
    choices: tuple[Choice, ...]
    step_allowed: int
    state_allowed: int
    definitions: tuple[Definition, ...]
    # literal over latches and choices of each assumption, by the assumption's name; step_allowed is
    # the conjunction of these and of the encoding's own constraint `encoding`.
    assumptions: tuple[tuple[str, int], ...]
    encoding: int
    # literals over latches and choices, true in a step in which the operator or the surroundings
    # did that thing / in which that element moved or that trapped volume lost its air
    events: tuple[Definition, ...]
    motions: tuple[Definition, ...]
    # literal over latches of what each assumption says of a state, by the assumption's name, so
    # that a proof can name the assumptions it needs; state_allowed is their conjunction
    state_assumptions: tuple[tuple[str, int], ...] = ()
    # which of `events` are changes of the surroundings, as indices
    surroundings: tuple[int, ...] = ()
    # latches (indices) that are true once a phase of a procedure has begun; engines guess from it
    phases: tuple[int, ...] = ()


Lemma = tuple[tuple[int, bool], ...]
"""A clause over latches: (index of latch, polarity) literals, sorted; true when one matches."""


class Proved(Struct, frozen=True, tag="proved"):
    """`lemmas` together with `not bad` are claimed to be an inductive invariant. A claim only:
    evidence checks it."""

    goal: str
    lemmas: tuple[Lemma, ...]
    engine: str


class Reached(Struct, frozen=True, tag="reached"):
    """Claimed run into `bad`: valuations of latches (length n + 1) and of choices (length n).

    shortest: every shorter length was refuted.
    """

    goal: str
    states: tuple[tuple[bool, ...], ...]
    choices: tuple[tuple[bool, ...], ...]
    shortest: bool
    engine: str


class Undecided(Struct, frozen=True, tag="undecided"):
    """Gave up: `reason` in words; `bad` is refuted up to `depth` steps (-1: not even the start)."""

    goal: str
    reason: str
    depth: int
    engine: str


Finding = Proved | Reached | Undecided
Verdict = Literal["holds", "violated", "inconclusive", "vacuous"]
