"""Writes a generated library and measures what a library costs.

    python -m tests.benchmarks.fleet FOLDER [--count N] [--seed N] [--faults] [--measure]

Seconds are of CPU, of all processes. cold: every design proved. approve: those that hold proved,
checked twice and written down. warm: certificates checked again, defective designs, which nobody
approved, proved. known: answers from the cache. changed: a filter more or less, proved from nothing
and from the clauses that were proved before. With --faults every design has a property that
tolerates any single torn tube. Each verdict is compared with that which the generator expects.
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
    looked_at,
    objections,
    plans_of,
    proved_again,
    write,
)
from tests.benchmarks.fleet.source import Expected
from verifier.diagnostics.limits import Limits
from verifier.engines.crew import Crew
from verifier.library.cache import SqliteCache

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
    parser.add_argument("--measure", action="store_true", help="approve, look again, print a table")
    options = parser.parse_args()
    if options.folder.exists():
        parser.error(f"{options.folder} is there already")
    plans = plans_of(options.seed, options.count)
    known = write(options.folder, plans, faults=options.faults)
    defective = sum(bool(plan.defect) for plan in plans)
    print(f"{len(plans)} designs, {defective} of them with a defect, seed {options.seed}")
    if options.measure:
        sys.exit(_measured(options.folder, plans, known, Crew(jobs=options.jobs)))


def _measured(folder: Path, plans: Sequence[Plan], known: dict[str, Expected], crew: Crew) -> int:
    rows: list[Row] = []
    wrong: list[str] = []

    def timed(what: str, designs: int, work: Callable[[], T]) -> T:
        before, began = _cpu(), time.perf_counter()
        found = work()
        rows.append(Row(what, designs, _cpu() - before, time.perf_counter() - began))
        print(_line(rows[-1]), flush=True)
        return found

    count = len(plans)
    print(f"{'':10}{'designs':>8}{'CPU s':>10}{'each':>9}{'clock s':>10}{'1,000 on 2 cores':>20}")
    cold = timed("cold", count, lambda: looked_at(folder, crew))
    wrong += objections(cold, known, approved=False)
    good = [plan for plan in plans if not known[f"{plan.name}/{plan.name}.ilk"].violated]
    wrong += timed("approve", len(good), lambda: approve_all(folder, known, crew))
    warm = timed("warm", count, lambda: looked_at(folder, crew))
    wrong += objections(warm, known, approved=True)
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "cache.sqlite"
        looked_at(folder, crew, SqliteCache(path, OPTIONS, Limits()))
        again = timed(
            "known", count, lambda: looked_at(folder, crew, SqliteCache(path, OPTIONS, Limits()))
        )
    wrong += objections(again, known, approved=True)
    if again.known != count:
        wrong.append(f"only {again.known} answers came from the cache")
    wrong += _changed(good[:CHANGED], timed)
    for one in wrong:
        print(f"WRONG {one}")
    return 1 if wrong else 0


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
