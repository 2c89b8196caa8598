"""Why evidence refuses."""

from __future__ import annotations


class EvidenceError(Exception):
    """A claim does not stand: our own defect, for which no verdict is given."""


class Unchecked(EvidenceError):
    """The solver gave up on an obligation: nothing is known against the claim, nor for it."""


class Contradiction(EvidenceError):
    """The assumptions contradict each other or the start (O3): the design is at fault."""


class DeadEnd(EvidenceError):
    """The assumptions leave a state without a next one (O3): the design is at fault.

    state: truth of each latch.
    """

    def __init__(self, state: tuple[bool, ...]) -> None:
        super().__init__("the assumptions leave a state without a next one")
        self.state = state
