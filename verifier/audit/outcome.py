"""What an audit says."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

Step = Literal[
    "files",
    "versions",
    "source",
    "translations",
    "obligations",
    "z3",
    "cvc5",
    "drat",
    "sequences",
    "verdicts",
]
STEPS: tuple[Step, ...] = (
    "files",
    "versions",
    "source",
    "translations",
    "obligations",
    "z3",
    "cvc5",
    "drat",
    "sequences",
    "verdicts",
)


class Outcome(Struct, frozen=True):
    """What came of a step, in words.

    unchecked: it could not be carried out.   left out: somebody did not want it.   not reached: a
    step before it rejected the folder.
    """

    step: Step
    status: Literal["accepted", "rejected", "unchecked", "left out", "not reached"]
    words: str = ""


class Rejected(Exception):
    """Something in the folder is not as it should be: `where`, and what."""

    def __init__(self, where: str, what: str) -> None:
        super().__init__(f"{where}: {what}")


class Unchecked(Exception):
    """A step that cannot be carried out here, and why."""


class NoBundle(Exception):
    """Not a folder of evidence at all."""
