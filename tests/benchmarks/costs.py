"""How much the library costs to prove: solver work, which is the same everywhere, and seconds.

python -m tests.benchmarks.costs [FILE ...]
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from msgspec import Struct

from tests.benchmarks.library import approved
from verifier import DesignResult, load, prove
from verifier.solving.sat_door import SatSolver
from verifier.solving.z3_door import Z3Solver


class Work(Struct):
    """calls: questions put to solvers by searches.   units: one a call, and one a conflict."""

    calls: int = 0
    units: int = 0


@contextmanager
def counted() -> Iterator[Work]:
    """Counts what every solver of `verifier.solving` does meanwhile."""
    work = Work()
    plain = {kind: kind.solve for kind in (SatSolver, Z3Solver)}

    def counting(kind: type[SatSolver | Z3Solver]):  # type: ignore[no-untyped-def]
        def solve(solver, assumptions, conflicts):  # type: ignore[no-untyped-def]
            before = solver.work
            answer = plain[kind](solver, assumptions, conflicts)
            work.calls += 1
            work.units += solver.work - before
            return answer

        return solve

    for kind in plain:
        kind.solve = counting(kind)  # type: ignore[method-assign]
    try:
        yield work
    finally:
        for kind, solve in plain.items():
            kind.solve = solve  # type: ignore[method-assign]


def measure(path: Path) -> tuple[DesignResult, Work, float]:
    """The verdicts on a design, what they cost, and the seconds they took."""
    began = time.perf_counter()
    with counted() as work:
        result = prove(load(path))
    return result, work, time.perf_counter() - began


def main(paths: list[Path]) -> None:
    print(f"{'design':32}{'verdict':14}{'cases':>6}{'calls':>9}{'work':>11}{'seconds':>9}")
    for path in paths or approved():
        result, work, seconds = measure(path)
        cases = sum(len(item.instances) for item in result.properties)
        print(
            f"{result.design:32}{result.verdict:14}{cases:6}{work.calls:9}{work.units:11}"
            f"{seconds:9.2f}"
        )


if __name__ == "__main__":
    main([Path(name) for name in sys.argv[1:]])
