"""Workers: questions asked in processes that can be killed, several at a time.

What comes of the questions does not depend on how many are asked at a time, nor on which is
answered first: outcomes count in the order of the questions, and a question that the outcomes
before it make needless has none.
"""

from __future__ import annotations

import os
import selectors
import signal
import threading
import time
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from types import FrameType
from typing import Any, Generic, TypeVar

import msgspec
from msgspec import Struct

from verifier.engines.worker import (
    ANSWER,
    FAILURE,
    MISTAKE,
    Clock,
    Failure,
    Mistake,
    WorkerError,
    live,
    out_of_memory,
)

T = TypeVar("T")

# Workers at a time, unless more are asked for.
MOST_JOBS = 4
# Seconds between two looks at workers that say nothing.
LOOK = 0.1
# Seconds that a worker has to end after it has closed its end.
LEAVE = 10
# Status with which z3 ends the process when it gets no memory.
NO_MEMORY = 101
_ENDINGS = (signal.SIGINT, signal.SIGTERM)


class Crew(Struct, frozen=True):
    """jobs: workers at a time.   memory: MiB by which each may grow.   patience: seconds after
    which a worker is killed whose solver has not finished a single call in them.
    tell: is told now and then which engine has done how much work.
    """

    jobs: int = 1
    memory: int = 2048
    patience: float = 900.0
    tell: Callable[[str, int], None] | None = None


class Task(Generic[T]):
    """A question: `work` is called in a worker; what it returns must decode as `answer`.

    name: of the engine, for people.   needed: whether the question still has to be asked, after
    the outcomes before it.   ahead: it may be asked before those are known.
    """

    def __init__(
        self,
        name: str,
        work: Callable[[], T],
        answer: Any,
        needed: Callable[[], bool] = lambda: True,
        *,
        ahead: bool = True,
    ) -> None:
        self.name = name
        self.work = work
        self.answer = answer
        self.needed = needed
        self.ahead = ahead


def default_jobs() -> int:
    """As many as there are processors for this process, up to a few."""
    free = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return max(1, min(free or 1, MOST_JOBS))


def can_have_workers() -> bool:
    """Whether this system can copy a process."""
    return hasattr(os, "fork")


def ask_all(
    crew: Crew, tasks: Sequence[Task[T]], accept: Callable[[int, T | Failure], None]
) -> None:
    """Asks what is needed. `accept` gets the number of a task and its outcome, in their order.
    Raises WorkerError when one that is next in order has raised something in its worker."""
    _Shift(crew, tasks, accept).run()


def ask(crew: Crew, name: str, work: Callable[[], T], answer: Any) -> T | Failure:
    """One question."""
    outcomes: list[T | Failure] = []
    ask_all(crew, [Task(name, work, answer)], lambda _, outcome: outcomes.append(outcome))
    return outcomes[0]


class _Worker:
    """The parent's side of one worker."""

    def __init__(self, task: Task[Any], crew: Crew) -> None:
        self.task = task
        self._crew = crew
        self.clock = Clock()
        self.said = bytearray()
        self.closed = False
        self._work = 0
        self._alive = time.monotonic()
        self._patient = True
        self._ended = False
        self.source, out = os.pipe()
        parent = os.getpid()
        with warnings.catch_warnings():
            # Python warns where threads run; a worker touches nothing that those hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            self.pid = os.fork()
        if self.pid == 0:
            live(task.work, out, self.clock, crew.memory, parent)
        os.close(out)

    def read(self) -> None:
        part = os.read(self.source, 1 << 16)
        self.said += part
        self.closed = not part
        self._alive = time.monotonic()

    def look(self) -> None:
        """Kills it when it has shown no sign of life for too long."""
        work, now = self.clock.read(), time.monotonic()
        if work != self._work:
            self._work, self._alive = work, now
            if self._crew.tell is not None:
                self._crew.tell(self.task.name, work)
        elif now - self._alive > self._crew.patience:
            self._patient = False
            self.kill()

    def outcome(self) -> Any:
        """Its answer or what became of it, once it has closed its end."""
        status = self._end()
        length = int.from_bytes(self.said[:8], "little")
        message = bytes(self.said[8:])
        if len(self.said) > 8 and len(message) == length:
            return self._decoded(message)
        return self._fate(status)

    def dismiss(self) -> None:
        """Ends it, whatever it does."""
        self.kill()
        self._end()

    def kill(self) -> None:
        if not self._ended:
            os.kill(self.pid, signal.SIGKILL)

    def wait(self, options: int = 0) -> int | None:
        """Its status; None when it has not ended, or somebody else took the status."""
        try:
            pid, status = os.waitpid(self.pid, options)
        except ChildProcessError:
            self._ended = True
            return None
        self._ended = pid != 0
        return status if pid else None

    def _end(self) -> int | None:
        """Waits for its end, but not for ever."""
        os.close(self.source)
        self.clock.close()
        last = time.monotonic() + LEAVE
        while time.monotonic() < last:
            status = self.wait(os.WNOHANG)
            if self._ended:
                return status
            time.sleep(0.001)
        self.kill()
        return self.wait()

    def _decoded(self, message: bytes) -> Any:
        kind, content = message[:1], message[1:]
        try:
            if kind == ANSWER:
                return msgspec.msgpack.decode(content, type=self.task.answer)
            if kind == FAILURE:
                return msgspec.msgpack.decode(content, type=Failure)
            if kind == MISTAKE:
                return msgspec.msgpack.decode(content, type=Mistake)
        except msgspec.DecodeError:
            pass
        return Failure("crash", "gave an answer that cannot be read")

    def _fate(self, status: int | None) -> Failure:
        if not self._patient:
            seconds = f"{self._crew.patience:g} seconds"
            return Failure("hang", f"was killed, after no solver call ended in {seconds}")
        if status is not None and os.WIFSIGNALED(status):
            number = os.WTERMSIG(status)
            name = signal.Signals(number).name if number in set(signal.Signals) else str(number)
            if number == signal.SIGKILL:
                return Failure("killed", f"was killed from outside ({name})")
            if number == signal.SIGABRT:
                # How a solver ends that asks for memory in vain; there is no other sign of it.
                mib = self._crew.memory
                words = f"was given up by its solver ({name}), as when {mib} MiB do not suffice"
                return Failure("memory", words)
            return Failure("crash", f"crashed ({name})")
        if status is not None and os.waitstatus_to_exitcode(status) == NO_MEMORY:
            return out_of_memory(self._crew.memory)
        return Failure("crash", "ended without an answer")


class _Shift:
    """`_first`: number of the first task whose outcome is not accepted yet."""

    def __init__(
        self, crew: Crew, tasks: Sequence[Task[T]], accept: Callable[[int, T | Failure], None]
    ) -> None:
        self._crew = crew
        self._tasks = tasks
        self._accept: Callable[[int, Any], None] = accept
        self._first = 0
        self._running: dict[int, _Worker] = {}
        self._done: dict[int, Any] = {}

    def run(self) -> None:
        with _ending(self._kill):
            try:
                while self._first < len(self._tasks):
                    self._take()
                    self._start()
                    self._watch()
            finally:
                self._dismiss(list(self._running))

    def _take(self) -> None:
        """Accept what is next in order, and drop what is needless now."""
        while self._first < len(self._tasks):
            needed = self._tasks[self._first].needed()
            if needed and self._first not in self._done:
                break
            if needed:
                outcome = self._done.pop(self._first)
                if isinstance(outcome, Mistake):
                    name = self._tasks[self._first].name
                    raise WorkerError(f"in the worker of {name}:\n\n{outcome.trace}")
                self._accept(self._first, outcome)
            self._first += 1
        self._dismiss([k for k in self._running if not self._tasks[k].needed()])

    def _start(self) -> None:
        for k in range(self._first, len(self._tasks)):
            if len(self._running) >= self._crew.jobs:
                return
            task = self._tasks[k]
            known = k in self._running or k in self._done
            if not known and (k == self._first or (task.ahead and task.needed())):
                with _held_back():
                    self._running[k] = _Worker(task, self._crew)

    def _watch(self) -> None:
        """Until a worker closes its end."""
        with selectors.DefaultSelector() as selector:
            for k, worker in self._running.items():
                selector.register(worker.source, selectors.EVENT_READ, k)
            while self._running and not any(one.closed for one in self._running.values()):
                for key, _ in selector.select(LOOK):
                    self._running[key.data].read()
                for worker in self._running.values():
                    worker.look()
        for k in [k for k, worker in self._running.items() if worker.closed]:
            self._done[k] = self._running[k].outcome()
            del self._running[k]

    def _dismiss(self, numbers: Sequence[int]) -> None:
        for k in numbers:
            self._running[k].dismiss()
            del self._running[k]

    def _kill(self) -> None:
        for worker in self._running.values():
            worker.kill()
            worker.wait()


@contextmanager
def _ending(kill: Callable[[], None]) -> Iterator[None]:
    """Signals that end the process end its workers first. Handlers that somebody else has set stay;
    what they raise ends the workers as well."""

    def end(number: int, _: FrameType | None) -> None:
        kill()
        signal.signal(number, signal.SIG_DFL)
        os.kill(os.getpid(), number)

    ours = []
    if threading.current_thread() is threading.main_thread():
        ours = [number for number in _ENDINGS if signal.getsignal(number) is signal.SIG_DFL]
    try:
        for number in ours:
            signal.signal(number, end)
        yield
    finally:
        for number in ours:
            signal.signal(number, signal.SIG_DFL)


@contextmanager
def _held_back() -> Iterator[None]:
    """Signals wait until the new worker is known; the worker itself lets them through again."""
    before = signal.pthread_sigmask(signal.SIG_BLOCK, _ENDINGS)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
