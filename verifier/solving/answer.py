"""What a solver may say. Three values, so that "don't know" cannot pass for "no"."""

from __future__ import annotations

import enum
from typing import NoReturn


class Answer(enum.Enum):
    """UNKNOWN: the budget ran out, or the solver gave up; it says nothing about the question."""

    SAT = "sat"
    UNSAT = "unsat"
    UNKNOWN = "unknown"

    def __bool__(self) -> NoReturn:
        raise TypeError("an answer has three values: compare it with `is`")
