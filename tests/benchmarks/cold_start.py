"""How long the command takes from a cold start on each design of the library and each variant.

    python -m tests.benchmarks.cold_start [--runs 3] [PATTERN]

Every figure is the median wall time of whole processes, beside a reference in the same run: the
time that Python takes to import z3 and do nothing. The last column is the ratio of the two.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import time
from pathlib import Path

from tests.benchmarks.library import ROOT, approved, variants

COMMAND = [str(Path(sys.executable).with_name("shutproof"))]
REFERENCE = [sys.executable, "-c", "import z3"]


def seconds(command: list[str], runs: int, expected: tuple[int, ...]) -> float:
    """Median wall time. Raises SystemExit if the command ends with an unexpected status."""
    taken = []
    for _ in range(runs):
        begun = time.perf_counter()
        done = subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, check=False)
        taken.append(time.perf_counter() - begun)
        if done.returncode not in expected:
            raise SystemExit(f"{' '.join(command)} ended with status {done.returncode}")
    return statistics.median(taken)


def main() -> None:
    parser = argparse.ArgumentParser(prog="tests.benchmarks.cold_start", description=__doc__)
    parser.add_argument("pattern", nargs="?", default="", help="only files with this in their path")
    parser.add_argument("--runs", type=int, default=3, help="runs of each command")
    options = parser.parse_args()
    rows: list[tuple[str, list[str], tuple[int, ...]]] = [
        ("import z3 (reference)", REFERENCE, (0,)),
        ("shutproof --help", [*COMMAND, "--help"], (0,)),
    ]
    for status, files in ((0, approved()), (1, variants())):
        for file in files:
            name = str(file.relative_to(ROOT))
            if options.pattern in name:
                rows.append((name, [*COMMAND, "prove", name], (status,)))
    reference = 0.0
    print(f"{'command':58} {'median s':>9} {'ratio':>7}")
    for label, command, expected in rows:
        median = seconds(command, options.runs, expected)
        reference = reference or median
        print(f"{label:58} {median:9.2f} {median / reference:7.1f}", flush=True)


if __name__ == "__main__":
    main()
