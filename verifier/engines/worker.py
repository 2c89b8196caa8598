"""What happens inside a worker: a forked copy of this process that answers one question.

It is not trusted with anything: its answer is a message that must decode as what was asked for, and
it may end in any way.
"""

from __future__ import annotations

import ctypes
import faulthandler
import gc
import os
import signal
import sys
import traceback
from collections.abc import Callable
from mmap import mmap
from typing import Literal, NoReturn

import msgspec
from msgspec import Struct

from verifier.solving.pulse import heard

MIB = 1 << 20
KILLED_WITH_PARENT = 1  # PR_SET_PDEATHSIG of Linux's prctl
FIRST_TO_GO = b"1000"  # the kernel ends this process first when memory runs out
# What a message begins with.
ANSWER, FAILURE, MISTAKE = b"A", b"F", b"M"

Kind = Literal["memory", "hang", "crash", "killed"]


class Failure(Struct, frozen=True):
    """A worker that gave no answer. words: what happened to it, after "the worker"."""

    kind: Kind
    words: str


class WorkerError(Exception):
    """Something was raised in a worker: a bug of ours. The text ends with the traceback there."""


class Mistake(Struct, frozen=True):
    """What is raised in a worker and says nothing of memory.   trace: its traceback."""

    trace: str


def out_of_memory(mib: int) -> Failure:
    return Failure("memory", f"needs more than the {mib} MiB that it may use")


class Clock:
    """Work done by a worker, in memory that it shares with its parent."""

    def __init__(self) -> None:
        self._shared = mmap(-1, 8)

    def add(self, work: int) -> None:
        self._shared[:] = (self.read() + work).to_bytes(8, "little")

    def read(self) -> int:
        return int.from_bytes(self._shared[:], "little")

    def close(self) -> None:
        self._shared.close()


def live(work: Callable[[], object], out: int, clock: Clock, mib: int, parent: int) -> NoReturn:
    """Answers on the descriptor `out`, then ends the process without cleaning up: what looks like
    its own (buffers, files) is the parent's."""
    try:
        _isolate(out, parent)
        limits = _cap(mib)
        try:
            with heard(clock.add):
                message = ANSWER + msgspec.msgpack.encode(work())
        except MemoryError:
            _lift(limits)
            message = FAILURE + msgspec.msgpack.encode(out_of_memory(mib))
        except Exception as error:
            _lift(limits)
            message = _told(error, mib)
        _write(out, message)
    finally:
        os._exit(0)


def _told(error: Exception, mib: int) -> bytes:
    if type(error).__name__ == "Z3Exception" and "memory" in str(error):
        return FAILURE + msgspec.msgpack.encode(out_of_memory(mib))
    trace = "".join(traceback.format_exception(error))
    # What no message can hold is spelt out.
    plain = trace.encode("utf-8", "backslashreplace").decode("utf-8")
    return MISTAKE + msgspec.msgpack.encode(Mistake(plain))


def _isolate(out: int, parent: int) -> None:
    """No input, no output but the answer; dies with its parent; is interrupted by nobody else."""
    for number in (signal.SIGINT, signal.SIGQUIT):
        # The parent hears these as well, and ends its workers.
        signal.signal(number, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    signal.pthread_sigmask(signal.SIG_SETMASK, ())
    faulthandler.disable()
    nowhere = os.open(os.devnull, os.O_RDWR)
    for descriptor in (0, 1, 2):
        if descriptor != out:
            os.dup2(nowhere, descriptor)
    # What is there already is not collected: that would copy every page of it.
    gc.freeze()
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(KILLED_WITH_PARENT, signal.SIGKILL)
        if os.getppid() != parent:
            os._exit(0)
        with open("/proc/self/oom_score_adj", "wb") as score:
            score.write(FIRST_TO_GO)


def _cap(mib: int) -> tuple[int, int]:
    """The process may grow by so much from here, where the system can limit that (Linux). The
    limits before."""
    import resource

    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    limits = resource.getrlimit(resource.RLIMIT_AS)
    wanted = _size() + mib * MIB
    hard = limits[1]
    if sys.platform == "linux" and (hard == resource.RLIM_INFINITY or wanted < hard):
        resource.setrlimit(resource.RLIMIT_AS, (wanted, hard))
    return limits


def _lift(limits: tuple[int, int]) -> None:
    """To say that memory ran out takes some, too."""
    import resource

    resource.setrlimit(resource.RLIMIT_AS, limits)


def _size() -> int:
    """Bytes of address space in use; 0 where that cannot be known."""
    if sys.platform != "linux":
        return 0
    with open("/proc/self/statm", "rb") as sizes:
        return int(sizes.read().split()[0]) * os.sysconf("SC_PAGE_SIZE")


def _write(out: int, message: bytes) -> None:
    left = memoryview(len(message).to_bytes(8, "little") + message)
    while left:
        left = left[os.write(out, left) :]
