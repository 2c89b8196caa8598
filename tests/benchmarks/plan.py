"""Which members are measured, and how a run through them goes."""

from __future__ import annotations

import sys
import tempfile
import threading
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import msgspec
from msgspec import Struct

from tests.benchmarks.child import Limit, run
from tests.benchmarks.contestants import OURS, REFERENCES, Contestant, Figure, Files, unfinished
from tests.benchmarks.families import FAMILIES
from tests.benchmarks.families.member import Member
from tests.benchmarks.library import path_of
from tests.log import Log

Sizes = tuple[int, ...]

# Ascending, so that whoever gives up on one member is not asked about larger ones.
STANDARD: dict[str, list[Sizes]] = {
    "bank": [(4, 2), (8, 3), (12, 4), (30, 4), (100, 4)],
    "bank-within": [(30,), (100,), (300,), (1000,)],
    "series": [(10,), (30,), (100,)],
    "deep": [(12, 4), (31, 10), (60, 20)],
    "cascade": [(6,), (12,), (24,), (48,)],
    "store": [(4,), (16,), (64,)],
    "carry": [(8,), (16,), (32,)],
    "rotary": [(4,), (8,), (12,), (20,)],
    "ring": [(6,), (12,), (24,)],
    "token": [(4,), (8,), (12,), (20,)],
    "ladder": [(8,), (16,), (32,)],
}
QUICK: dict[str, list[Sizes]] = {
    "bank": [(3, 2)],
    "deep": [(12, 4)],
    "carry": [(8,)],
    "rotary": [(4,)],
    "token": [(4,)],
    "ladder": [(8,)],
}

# A thousand compartments make a long text; limits are for what strangers send.
ROOMY = ["--max-members", "10000000", "--max-bytes", "10000000"]


class Row(Struct, frozen=True):
    """Figures about one member. whole: the command `prove`, from a cold start, on all that the
    design promises, *recovers*, *possible*, triggers and *comes to rest* too.
    """

    member: Member
    ours: Figure
    references: dict[str, Figure]
    whole: Figure

    @property
    def asked(self) -> str:
        return "violated" if self.member.flawed else "holds"

    @property
    def best(self) -> tuple[str, Figure] | None:
        """The fastest reference that decided the question."""
        decided = [(name, one) for name, one in self.references.items() if one.decided]
        return min(decided, key=lambda pair: pair[1].cost, default=None)

    @property
    def ratio(self) -> float | None:
        """How many times as long as ours the best reference takes, both without process start."""
        best = self.best
        return best[1].cost / self.ours.cost if best and self.ours.decided else None

    def disagreements(self) -> list[str]:
        """Who decided otherwise than the generator promises."""
        everybody = {"ours": self.ours, **self.references, "prove": self.whole}
        wrong = [n for n, one in everybody.items() if one.decided and one.outcome != self.asked]
        least = min((n for n in self.member.violated.values() if n is not None), default=None)
        for name, one in everybody.items():
            if one.length is not None and least is not None and one.length < least:
                wrong.append(name)
        return wrong


class Course(Struct, frozen=True):
    """limit: of each process.   runs: each is measured so often, the least figure counts.
    jobs: members measured at the same time.   whole: whether the command is measured too.
    log: rows that were measured before, with the same source and limits, are not measured again.
    """

    limit: Limit
    references: tuple[Contestant, ...] = REFERENCES
    runs: int = 1
    jobs: int = 1
    whole: bool = True
    log: Log | None = None


def members(plan: dict[str, list[Sizes]]) -> list[Member]:
    """Holding ones first, so that neighbours in the table grow."""
    return [
        FAMILIES[name].member(*sizes, flawed=flawed)
        for name, every in plan.items()
        for flawed in (False, True)
        for sizes in every
    ]


def measure(plan: dict[str, list[Sizes]], course: Course, said: Callable[[str], None]) -> list[Row]:
    """A row for each member. Members of one family and sort stand in one queue."""
    queues: dict[tuple[str, bool], list[Member]] = {}
    for member in members(plan):
        queues.setdefault((member.family, member.flawed), []).append(member)
    rows: dict[str, Row] = {}
    lock = threading.Lock()

    def work(queue: Iterable[Member]) -> None:
        given_up: dict[str, str] = {}
        for member in queue:
            row = _known(member, course) or _row(member, course, given_up)
            everybody = {"ours": row.ours, **row.references, "prove": row.whole}
            for name, one in everybody.items():
                if one.outcome in ("out of time", "out of memory"):
                    given_up.setdefault(name, f"{one.outcome} at {member.name}")
            with lock:
                rows[member.name] = row
                _keep(row, course)
                said(member.name)

    with ThreadPoolExecutor(course.jobs) as pool:
        list(pool.map(work, queues.values()))
    return [rows[member.name] for member in members(plan)]


def _asked_as(course: Course) -> list[object]:
    """What figures that stand in one table have in common."""
    names = [one.name for one in course.references]
    return [course.limit.seconds, course.limit.mebibytes, names, course.runs, course.whole]


def _known(member: Member, course: Course) -> Row | None:
    for line in course.log.lines if course.log is not None else ():
        if (line["member"], line["asked"]) == (member.name, _asked_as(course)):
            figures = msgspec.convert(line["figures"], type=dict[str, Figure])
            ours, whole = figures.pop("ours"), figures.pop("prove")
            return Row(member, ours, figures, whole)
    return None


def _keep(row: Row, course: Course) -> None:
    if course.log is not None and _known(row.member, course) is None:
        figures = {"ours": row.ours, **row.references, "prove": row.whole}
        course.log.add(
            member=row.member.name, asked=_asked_as(course), figures=msgspec.to_builtins(figures)
        )


def _row(member: Member, course: Course, given_up: dict[str, str]) -> Row:
    """given_up: who ended at a limit, and at which smaller member; they are not asked again."""
    with tempfile.TemporaryDirectory() as folder:
        files = Files(Path(folder) / "member.ilk", Path(folder) / "member.aig")
        files.design.write_text(member.text)
        command = [sys.executable, "-m", "tests.benchmarks.export", str(files.design)]
        command += [str(files.model), member.family, *map(str, member.sizes)]
        exported = run([*command, *(["--flawed"] if member.flawed else [])], course.limit)
        ours = _asked(OURS, member, files, course, given_up)
        figures = {}
        for one in course.references:
            if exported.status != 0 and one.name not in ("horn", "explicit", "bdd"):
                figures[one.name] = unfinished(exported)
                continue
            figures[one.name] = _asked(one, member, files, course, given_up)
        whole = Figure("not asked")
        if course.whole:
            why = given_up.get("prove")
            whole = Figure("skipped", why=why) if why else _whole(files.design, course)
    return Row(member, ours, figures, whole)


def _asked(
    one: Contestant, member: Member, files: Files, course: Course, given_up: dict[str, str]
) -> Figure:
    if not (one.finds if member.flawed else one.proves):
        return Figure("not asked")
    if one.name in given_up:
        return Figure("skipped", why=given_up[one.name])
    figures = []
    for _ in range(course.runs):
        figures.append(one.ask(member, files, course.limit))
        if not figures[-1].decided:
            return figures[-1]
    return min(figures, key=lambda figure: figure.cost)


def _whole(design: Path, course: Course) -> Figure:
    """`shutproof prove`, as a user starts it; the search is all of it."""
    command = [str(Path(sys.executable).with_name("shutproof")), "prove", str(design), *ROOMY]
    figures = []
    for _ in range(course.runs):
        ended = run(command, course.limit)
        words = {0: "holds", 1: "violated", 3: "unknown"}
        if ended.how != "done" or ended.status not in words:
            return unfinished(ended)
        figures.append(
            Figure(
                words[ended.status],  # type: ignore[arg-type]
                search=ended.cpu,
                whole=ended.cpu,
                wall=ended.wall,
                peak=ended.peak,
            )
        )
    return min(figures, key=lambda figure: figure.whole)


def heron(course: Course) -> Figure:
    """The command on the three-compartment design of the library."""
    return _whole(path_of("heron"), course)
