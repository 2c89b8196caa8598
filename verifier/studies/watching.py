"""Somebody who watches a study: told of each property, and of work done for it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

from verifier.report.result import PropertyResult
from verifier.solving.pulse import heard


class Watcher(Protocol):
    """What is told changes nothing in the study."""

    def begins(self, design: str, what: str, number: int, among: int) -> None:
        """With a property, the `number`-th of so many, or, where that is 0, with something else."""
        ...

    def works(self, engine: str, work: int) -> None:
        """An engine in a worker has done so much work by now (conflicts and solver calls); with no
        name, this process has done so much more."""
        ...

    def decides(self, design: str, item: PropertyResult) -> None:
        """With this answer; evidence has accepted it."""
        ...


class Nobody:
    """Does not watch."""

    def begins(self, design: str, what: str, number: int, among: int) -> None:
        pass

    def works(self, engine: str, work: int) -> None:
        pass

    def decides(self, design: str, item: PropertyResult) -> None:
        pass


@contextmanager
def watched(watcher: Watcher) -> Iterator[None]:
    """Work of this process in the block is told."""
    with heard(lambda work: watcher.works("", work)):
        yield
