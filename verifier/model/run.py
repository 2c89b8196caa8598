"""States and runs of a circuit: what engines propose and the simulator replays."""

from __future__ import annotations

from msgspec import Struct


class State(Struct, frozen=True, order=True):
    """One moment. All tuples run parallel to those of the circuit.

    positions: index of each element's position.   hands: held hands on (momentary ones: False).
    settings: index of each switch's value.        memory: what each volume kept when cut off;
    meaningful only for trapped volumes, and False elsewhere in canonical states.
    """

    positions: tuple[int, ...]
    hands: tuple[bool, ...]
    settings: tuple[int, ...]
    memory: tuple[bool, ...]


class Step(Struct, frozen=True):
    """From one state to the next: the momentary hands that acted, and the state that came of it.

    Changes of held hands, settings and positions are read off the two states.
    """

    acting: tuple[int, ...]
    state: State


class Run(Struct, frozen=True):
    """A run from the start. For a *recovers* property `procedure_from` is the number of steps after
    which the named procedure begins (its phases are then driven by rest); None otherwise.
    """

    start: State
    steps: tuple[Step, ...]
    procedure_from: int | None = None

    @property
    def states(self) -> tuple[State, ...]:
        return (self.start, *(step.state for step in self.steps))


class Parting(Struct, frozen=True):
    """Two runs from the start that are the same for their first `shared` steps, up to a state at
    rest, one step from there and movements after it, and then go on apart (Q11)."""

    first: Run
    second: Run
    shared: int
