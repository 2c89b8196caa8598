"""Who is asked: our search with its check, and the references, each in a process of its own."""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Literal

import msgspec
from msgspec import Struct

from tests.benchmarks.child import Ended, Limit, run
from tests.benchmarks.families.member import Member
from tests.benchmarks.solve import Solved

Outcome = Literal[
    "holds", "violated", "unknown", "out of time", "out of memory", "failed", "skipped", "not asked"
]


class Figure(Struct, frozen=True):
    """What one contestant did with one member.

    search, check: CPU seconds of these stages alone, process start and reading not counted.
    whole: CPU seconds of the whole process; wall: the same by the clock; peak: MiB.
    length: of a run that was found. sizes: parts, latches and nodes, from our own contestants.
    why: the last words of one that failed.
    """

    outcome: Outcome
    search: float = 0.0
    check: float = 0.0
    compile: float = 0.0
    whole: float = 0.0
    wall: float = 0.0
    peak: float = 0.0
    length: int | None = None
    sizes: tuple[int, int, int] = (0, 0, 0)
    why: str = ""

    @property
    def decided(self) -> bool:
        return self.outcome in ("holds", "violated")

    @property
    def cost(self) -> float:
        """What is compared: search and check."""
        return self.search + self.check


class Files(Struct, frozen=True):
    """The design, and the question about it in AIGER."""

    design: Path
    model: Path


class Contestant(Struct, frozen=True):
    """proves: it can show that something is never reached.   finds: it can show a run."""

    name: str
    what: str
    proves: bool
    finds: bool
    ask: Callable[[Member, Files, Limit], Figure]


def method(name: str) -> Callable[[Member, Files, Limit], Figure]:
    """One of tests.benchmarks.solve."""

    def ask(member: Member, files: Files, limit: Limit) -> Figure:
        command = [sys.executable, "-m", "tests.benchmarks.solve", name, str(files.design)]
        command += [member.family, *map(str, member.sizes)]
        ended = run([*command, *(["--flawed"] if member.flawed else [])], limit)
        if ended.how != "done" or ended.status != 0:
            return unfinished(ended)
        solved = msgspec.json.decode(ended.output.splitlines()[-1], type=Solved)
        return Figure(
            solved.verdict,
            search=solved.seconds["search"],
            check=solved.seconds.get("check", 0.0),
            compile=solved.seconds["compile"],
            whole=ended.cpu,
            wall=ended.wall,
            peak=ended.peak,
            length=solved.length,
            sizes=(solved.parts, solved.latches, solved.nodes),
        )

    return ask


def program() -> str | None:
    """Where the package pyosys has its yosys-abc; None if it is not installed."""
    found = importlib.util.find_spec("pyosys")
    if found is None or found.origin is None:
        return None
    path = Path(found.origin).with_name("yosys-abc")
    return str(path) if path.exists() else None


def abc(command: str) -> Callable[[Member, Files, Limit], Figure]:
    """A command of yosys-abc. Its search is what the process costs beyond one that only starts and
    reads the same file."""

    def ask(member: Member, files: Files, limit: Limit) -> Figure:
        path = program()
        if path is None:
            return Figure("failed", why="pyosys is not installed")
        reading = f"read_aiger {files.model}; fold; strash"
        before = run([path, "-q", reading], limit)
        ended = run([path, "-q", f"{reading}; {command}"], limit)
        outcome, length = heard(ended.output)
        if ended.how != "done" or outcome == "failed":
            return unfinished(ended)
        return Figure(
            outcome,
            search=max(ended.cpu - before.cpu, 0.0005),
            whole=ended.cpu,
            wall=ended.wall,
            peak=ended.peak,
            length=length,
        )

    return ask


def heard(output: str) -> tuple[Outcome, int | None]:
    """What yosys-abc says of the one output that it was given."""
    asserted = re.search(r"was asserted in frame (\d+)", output)
    if asserted:
        return "violated", int(asserted[1])
    # The second is what pdr says, without any limit of time, of an output that is constant.
    if "Property proved" in output or "All outputs solved" in output:
        return "holds", None
    if "UNDECIDED" in output or "No output failed" in output or "Reached" in output:
        return "unknown", None
    return "failed", None


def unfinished(ended: Ended) -> Figure:
    """Ended by a limit, or on its own without an answer."""
    outcome: Outcome = "failed" if ended.how == "done" else ended.how
    words = (ended.errors or ended.output).strip().splitlines()
    return Figure(
        outcome,
        whole=ended.cpu,
        wall=ended.wall,
        peak=ended.peak,
        why=f"status {ended.status}: {words[-1] if words else ''}",
    )


OURS = Contestant("ours", "the search of prove, and its certificate", True, True, method("ours"))
REFERENCES = (
    Contestant("pdr", "yosys-abc: pdr", True, True, abc("pdr")),
    Contestant("pdr -s", "yosys-abc: pdr -s", True, True, abc("pdr -s")),
    Contestant("pdr -s -f", "yosys-abc: pdr -s -f", True, True, abc("pdr -s -f")),
    Contestant("bmc3", "yosys-abc: bmc3", False, True, abc("bmc3")),
    Contestant("horn", "z3's engine for Horn clauses", True, True, method("horn")),
    Contestant("explicit", "state after state by the simulator", True, True, method("explicit")),
    Contestant("bdd", "decision diagrams, CUDD behind dd", True, True, method("bdd")),
)
