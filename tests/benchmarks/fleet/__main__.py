"""Writes a generated library and measures what a library costs.

    python -m tests.benchmarks.fleet FOLDER [--count N] [--seed N] [--faults] [--measure]

Seconds are of CPU, of all processes. cold: every design proved. approve: those that hold proved,
checked twice and written down. warm: certificates checked again, defective designs, which nobody
approved, proved. cluster: the same by the processes of a local cluster, made ready before; their
CPU is not counted. known: answers from the cache. changed: a filter more or less, proved from
nothing (anew) and from the clauses that were proved before. With --faults every design has a
property that tolerates any single torn tube. Each verdict is compared with that which the
generator expects.
"""

from __future__ import annotations

import argparse
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

from msgspec import Struct

from tests.benchmarks.fleet.plans import Plan
from tests.benchmarks.fleet.shelf import (
    OPTIONS,
    approve_all,
    changed,
    clauses_before,
    local_cluster,
    looked_at,
    objections,
    plans_of,
    proved_again,
    write,
)
from tests.benchmarks.fleet.source import Expected
from verifier.diagnostics.limits import Limits
from verifier.engines.crew import Crew
from verifier.library.cache import Cache, SqliteCache
from verifier.library.regress import Far
from verifier.report.library import LibraryResult

T = TypeVar("T")
WHOLE = 1_000
CORES = 2
# Seconds by the clock that a library of a thousand designs may take on two cores.
TARGETS = {"cold": 300.0, "warm": 30.0, "known": 5.0}
CHANGED = 8
"""Designs that are changed and proved again."""


class Row(Struct, frozen=True):
    what: str
    designs: int
    cpu: float
    wall: float


def main() -> None:
    parser = argparse.ArgumentParser(
        prog="tests.benchmarks.fleet",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("folder", type=Path)
    parser.add_argument("--count", type=int, default=WHOLE)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=CORES)
    parser.add_argument("--faults", action="store_true", help="tolerating any single torn tube")
    parser.add_argument("--cluster", action="store_true", help="also by a local cluster")
    parser.add_argument("--measure", action="store_true", help="approve, look again, print a table")
    options = parser.parse_args()
    if options.folder.exists():
        parser.error(f"{options.folder} is there already")
    plans = plans_of(options.seed, options.count)
    known = write(options.folder, plans, faults=options.faults)
    defective = sum(bool(plan.defect) for plan in plans)
    print(f"{len(plans)} designs, {defective} of them with a defect, seed {options.seed}")
    if options.measure:
        measuring = _Measuring(options.folder, known, Crew(jobs=options.jobs))
        sys.exit(_measured(measuring, plans, cluster=options.cluster))


class _Measuring:
    """What was measured so far, and what was not as it must be."""

    def __init__(self, folder: Path, known: dict[str, Expected], crew: Crew) -> None:
        self.folder = folder
        self.known = known
        self.crew = crew
        self.rows: dict[str, Row] = {}
        self.wrong: list[str] = []
        print(
            f"{'':10}{'designs':>8}{'CPU s':>10}{'each':>9}{'clock s':>10}{'1,000 on 2 cores':>20}"
        )

    def timed(self, what: str, designs: int, work: Callable[[], T]) -> T:
        before, began = _cpu(), time.perf_counter()
        found = work()
        row = Row(what, designs, _cpu() - before, time.perf_counter() - began)
        self.rows[what] = row
        print(_line(row), flush=True)
        return found

    def look(
        self,
        what: str,
        cache: Callable[[], Cache | None] = lambda: None,
        far: Far | None = None,
        *,
        approved: bool = True,
    ) -> LibraryResult:
        """At the whole library; all answers must be those that are expected."""
        count = len(self.known)
        found = self.timed(what, count, lambda: looked_at(self.folder, self.crew, cache(), far))
        self.wrong += objections(found, self.known, approved=approved)
        return found


def _measured(one: _Measuring, plans: Sequence[Plan], *, cluster: bool) -> int:
    one.look("cold", approved=False)
    good = [plan for plan in plans if not one.known[f"{plan.name}/{plan.name}.ilk"].violated]
    one.wrong += one.timed(
        "approve", len(good), lambda: approve_all(one.folder, one.known, one.crew)
    )
    one.look("warm")
    if cluster:
        with local_cluster(one.crew.jobs) as far:
            one.look("cluster", far=far)
        ratio = one.rows["cluster"].wall / one.rows["warm"].wall
        print(f"the cluster takes {ratio:.2f} times as long as one machine (aim 1.3)")
    with tempfile.TemporaryDirectory() as place:

        def cache() -> SqliteCache:
            return SqliteCache(Path(place) / "cache.sqlite", OPTIONS, Limits())

        looked_at(one.folder, one.crew, cache())
        again = one.look("known", cache)
    if again.known != len(plans):
        one.wrong.append(f"only {again.known} answers came from the cache")
    one.wrong += _changed(good[:CHANGED], one.timed)
    for words in one.wrong:
        print(f"WRONG {words}")
    return 1 if one.wrong else 0


def _changed(plans: Sequence[Plan], timed: Callable[..., bool]) -> list[str]:
    before = {plan.name: clauses_before(plan) for plan in plans}
    told = []
    for what, earlier in (("anew", False), ("changed", True)):

        def work(earlier: bool = earlier) -> bool:
            return all(
                proved_again(changed(plan), before[plan.name] if earlier else None)
                for plan in plans
            )

        if not timed(what, len(plans), work):
            told.append(f"{what}: a changed design has another verdict than it must have")
    return told


def _line(row: Row) -> str:
    each = row.cpu / max(1, row.designs)
    target = TARGETS.get(row.what)
    aim = f" (aim {target:g})" if target is not None else ""
    if row.what == "cluster":
        return f"{row.what:10}{row.designs:8}{'':19}{row.wall:10.1f}"
    told = f"{each * WHOLE / CORES:.0f} s{aim}"
    return f"{row.what:10}{row.designs:8}{row.cpu:10.1f}{each:9.3f}{row.wall:10.1f}{told:>20}"


def _cpu() -> float:
    """Of this process and of those that have ended."""
    own, others = (
        resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    )
    return own.ru_utime + own.ru_stime + others.ru_utime + others.ru_stime


if __name__ == "__main__":
    main()
