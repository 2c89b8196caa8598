"""A circuit compiled to a transition system, with every question that its properties ask of it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable
from operator import attrgetter
from typing import Any, Literal

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.transition.conditions import Meaning
from verifier.transition.pressure import Pressures
from verifier.transition.system import Goal, System


class Question(Struct, frozen=True, gc=False):
    """One question about one instance of a property.

    bad: a state that breaks it.   witness: a state that a *possible* asks for.
    trigger: a state that meets trigger number `index`, without which the instance is vacuous.
    *recovers* has no bad here: its runs need a system of their own (see recovery.py).
    """

    property: int
    instance: int
    role: Literal["bad", "witness", "trigger"]
    index: int
    goal: Goal


class Compiled(Struct, frozen=True):
    """Indices of latches and literals run parallel to the tuples of the circuit.

    questions: in the order of properties and instances.
    The observers of *order* properties are the last latches; nothing else depends on them.
    element_codes, switch_codes: indices of latches, to be read as `encoding` says.
    hand_latches: of held hands only.   memory_latches: of volumes that can be trapped only.
    must_move, at_rest: with no momentary hand acting (M3, M6); demands likewise: (position, some
    reading selects it) per element.
    """

    circuit: Circuit
    system: System
    element_codes: tuple[tuple[int, ...], ...]
    switch_codes: tuple[tuple[int, ...], ...]
    hand_latches: dict[int, int]
    memory_latches: dict[int, int]
    at_rest: int
    demands: tuple[tuple[tuple[int, int], ...], ...]
    must_move: tuple[int, ...]
    high: tuple[int, ...]
    low: tuple[int, ...]
    trapped: tuple[int, ...]
    contest: Goal
    questions: tuple[Question, ...]
    pressures: Pressures
    meaning: Meaning

    def asked(self, property: int, instance: int) -> tuple[Question, ...]:
        """The questions of one instance."""
        return _stretch(self.questions, attrgetter("property", "instance"), (property, instance))

    def asked_by(self, property: int, role: str) -> tuple[Question, ...]:
        """The questions with this role of one property."""
        all_roles = _stretch(self.questions, attrgetter("property"), property)
        return tuple(question for question in all_roles if question.role == role)


def _stretch(
    questions: tuple[Question, ...], key: Callable[[Question], Any], wanted: Any
) -> tuple[Question, ...]:
    """Those with the wanted key; questions are in the order of properties and instances."""
    first = bisect_left(questions, wanted, key=key)
    return questions[first : bisect_right(questions, wanted, lo=first, key=key)]
