"""A sign of life: solvers tell after every call how much work it was."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

Listener = Callable[[int], None]
_listeners: list[Listener] = []


def beat(work: int) -> None:
    """Tells whoever listens in this process that a solver did so much work."""
    for listener in _listeners:
        listener(work)


@contextmanager
def heard(listener: Listener) -> Iterator[None]:
    """The listener, and no other, is told of all work done in the block."""
    before = _listeners[:]
    _listeners[:] = [listener]
    try:
        yield
    finally:
        _listeners[:] = before
