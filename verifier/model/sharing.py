"""What the instances of one statement have in common is made once."""

from __future__ import annotations

from collections.abc import Callable
from operator import itemgetter
from typing import Generic, TypeVar

from verifier.model.numbers import Env
from verifier.model.quantifiers import Content, variables_of

C = TypeVar("C", bound=Content)
T = TypeVar("T")


class Shared(Generic[C, T]):
    """What `make` makes of expressions (or references) of one statement: once for all assignments
    that give the variables in an expression the same values.

    An expression must always come with values for the same variables.
    """

    def __init__(self, make: Callable[[C, Env], T]) -> None:
        self._make = make
        self._known: dict[int, tuple[Callable[[Env], object], dict[object, T]]] = {}

    def of(self, expression: C, env: Env) -> T:
        known = self._known.get(id(expression))
        if known is None:
            names = [name for name in variables_of(expression) if name in env]
            key_of: Callable[[Env], object] = itemgetter(*names) if names else _nothing
            known = self._known[id(expression)] = (key_of, {})
        key_of, made = known
        key = key_of(env)
        value = made.get(key)
        if value is None:
            value = made[key] = self._make(expression, env)
        return value


def _nothing(env: Env) -> object:
    return None
