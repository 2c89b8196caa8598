"""Designs looked at on the machines of a dask.distributed cluster: the only door to it.

A machine is sent the files of a design and not where they lie, works in a folder of its own, and
asks in a child that can be killed, as one machine alone does. What a machine was at work on when it
went away is done by another; every answer counts once.
"""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from verifier.diagnostics.limits import Limits
from verifier.engines.crew import Crew, ask
from verifier.engines.worker import Failure
from verifier.library.approvals import Approval
from verifier.library.cache import Looked
from verifier.library.examining import examine, warm
from verifier.library.regress import Entry
from verifier.shipped import source_digest
from verifier.studies.options import Options

# Seconds in which the cluster has to answer, and machines that may die at one design.
PATIENCE = 20
DEATHS = 2

_INCLUDED = re.compile(r'^\s*include\s+"([^"\n]*)"', re.MULTILINE)


class NoCluster(Exception):
    """It cannot be reached, or the extra `cluster` is not installed; says which."""


class Sent(Struct, frozen=True):
    """files: contents by their paths from the design's folder.   program: digest of its source."""

    program: str
    name: str
    shown: str
    files: dict[str, bytes]
    approval: Approval | None
    options: Options
    limits: Limits
    jobs: int
    memory: int
    patience: float


class Answer(Struct, frozen=True):
    """One of them."""

    looked: Looked | None = None
    failure: Failure | None = None


class Cluster:
    """Asks far away what `regress` would ask of workers of its own."""

    def __init__(self, address: str, options: Options, limits: Limits, crew: Crew) -> None:
        """Raises NoCluster."""
        self._options = options
        self._limits = limits
        self._crew = crew
        try:
            client: Any = import_module("distributed").Client
        except ImportError:
            told = "dask.distributed is not installed: pip install 'shutproof[cluster]'"
            raise NoCluster(told) from None
        try:
            self._client = client(address, timeout=PATIENCE, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as problem:
            raise NoCluster(f"no cluster answers at {address}: {problem}") from None

    def close(self) -> None:
        with suppress(Exception):
            self._client.close()

    def ask_all(
        self, entries: Sequence[Entry], accept: Callable[[int, Looked | Failure], None]
    ) -> None:
        """`accept` gets the number of an entry and its outcome, in their order."""
        waiting = [
            self._client.submit(looked, self._message(entry), pure=False, retries=DEATHS)
            for entry in entries
        ]
        for number, future in enumerate(waiting):
            accept(number, _outcome(future))
            future.release()

    def _message(self, entry: Entry) -> bytes:
        crew = self._crew
        sent = Sent(
            _own_source(),
            entry.path.name,
            entry.shown,
            files_of(entry),
            entry.approval,
            self._options,
            self._limits,
            crew.jobs,
            crew.memory,
            crew.patience,
        )
        return msgspec.msgpack.encode(sent)


def files_of(entry: Entry) -> dict[str, bytes]:
    """The design, what it may include (more than that does no harm), and its certificate. What
    cannot be read is left out: whoever looks at the design will say so."""
    folder = entry.path.parent
    found: dict[str, bytes] = {}
    waiting = [entry.path.name]
    while waiting:
        name = waiting.pop()
        content = _content(folder, name)
        if name in found or content is None:
            continue
        found[name] = content
        beside = Path(name).parent
        for path in _INCLUDED.findall(content.decode("utf-8", "replace")):
            waiting.append((beside / path).as_posix())
    if entry.approval is not None:
        certificate = _content(folder, entry.approval.certificate)
        if certificate is not None:
            found[entry.approval.certificate] = certificate
    return found


def _content(folder: Path, name: str) -> bytes | None:
    """None of what cannot be read or lies outside the folder."""
    try:
        path = (folder / name).resolve()
        return path.read_bytes() if path.is_relative_to(folder.resolve()) else None
    except (OSError, ValueError):
        return None


def _outcome(future: Any) -> Looked | Failure:
    try:
        answer = msgspec.msgpack.decode(future.result(), type=Answer)
    except Exception as problem:
        # Whatever went wrong on the way costs this design a clear status, and no other.
        words = str(problem).strip().splitlines() or [type(problem).__name__]
        return Failure("crash", f"gave no answer: {words[0]}")
    return answer.looked or answer.failure or Failure("crash", "gave an empty answer")


# ---- far away
def looked(message: bytes) -> bytes:
    """Carried out by a machine of the cluster: its answer, or what became of the child."""
    sent = msgspec.msgpack.decode(message, type=Sent)
    if sent.program != _own_source():
        told = Failure("crash", "has another version of the program")
        return msgspec.msgpack.encode(Answer(failure=told))
    _made_ready()
    with tempfile.TemporaryDirectory(prefix="shutproof") as place:
        folder = Path(place)
        for name, content in sent.files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        crew = Crew(sent.jobs, sent.memory, sent.patience)

        def work() -> Looked:
            path = folder / sent.name
            return examine(path, sent.shown, sent.approval, sent.options, sent.limits)

        said = ask(crew, sent.shown, work, Looked)
    answer = Answer(failure=said) if isinstance(said, Failure) else Answer(said)
    return msgspec.msgpack.encode(answer)


@cache
def _own_source() -> str:
    return source_digest()


@cache
def _made_ready() -> None:
    warm()
