"""An interrupt (Ctrl-C) that ends a search and not the command."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

# What the shell says of a command that SIGINT ended.
INTERRUPTED = 130


@contextmanager
def interruptible() -> Iterator[None]:
    """The first interrupt stops the search, a second one the process."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def stop(_: int, __: FrameType | None) -> None:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
