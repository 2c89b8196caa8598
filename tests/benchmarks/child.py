"""A program run in a process of its own, with limits, and what it cost.

Time is limited in CPU seconds, which do not depend on what else the machine does; a process that
waits instead of working is ended by the clock, after several times as long.
"""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import tempfile
import threading
import time
from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from tests.benchmarks.library import ROOT

PATIENCE = 6
"""The clock may run this many times as long as the limit in CPU seconds."""


class Limit(Struct, frozen=True):
    """seconds: of CPU.   mebibytes: of address space."""

    seconds: float = 60.0
    mebibytes: int = 4096


class Ended(Struct, frozen=True):
    """how: "done" whatever the status, unless a limit ended it.   cpu: user and system seconds, of
    its own children too.   wall: seconds by the clock.   peak: MiB of memory, of the largest
    process.
    """

    how: Literal["done", "out of time", "out of memory"]
    status: int
    output: str
    errors: str
    cpu: float
    wall: float
    peak: float


def run(command: Sequence[str], limit: Limit) -> Ended:
    """Runs the command to its end or to a limit; its whole process group is ended then."""
    with tempfile.TemporaryFile() as output, tempfile.TemporaryFile() as errors:
        began = time.perf_counter()
        process = subprocess.Popen(
            list(command),
            cwd=ROOT,
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=errors,
            start_new_session=True,
            preexec_fn=lambda: _confine(limit),
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
        late = threading.Event()
        watch = threading.Timer(PATIENCE * limit.seconds + 5, _end, (process.pid, late))
        watch.start()
        _, status, usage = os.wait4(process.pid, 0)
        watch.cancel()
        process.returncode = os.waitstatus_to_exitcode(status)
        wall = time.perf_counter() - began
        _end(process.pid)
        said, complaints = _text(output), _text(errors)
    cpu = usage.ru_utime + usage.ru_stime
    peak = usage.ru_maxrss / 1024
    how = _how(process.returncode, complaints, late.is_set() or cpu >= limit.seconds)
    return Ended(how, process.returncode, said, complaints, cpu, wall, peak)


def _confine(limit: Limit) -> None:
    seconds = max(1, round(limit.seconds))
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 2))
    room = limit.mebibytes * 1024 * 1024
    resource.setrlimit(resource.RLIMIT_AS, (room, room))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _end(group: int, late: threading.Event | None = None) -> None:
    """Ends what is left of a process group that `run` started."""
    if late is not None:
        late.set()
    try:
        os.killpg(group, signal.SIGKILL)
    except ProcessLookupError:
        return


def _how(
    status: int, complaints: str, late: bool
) -> Literal["done", "out of time", "out of memory"]:
    if late or status in (-signal.SIGXCPU, -signal.SIGKILL):
        return "out of time"
    words = complaints.lower()
    if any(word in words for word in ("memoryerror", "out of memory", "bad_alloc")):
        return "out of memory"
    return "done"


def _text(stream: object) -> str:
    stream.seek(0)  # type: ignore[attr-defined]
    return stream.read().decode(errors="replace")  # type: ignore[attr-defined, no-any-return]
