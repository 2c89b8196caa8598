"""Random circuits without end: everything that answers must agree.

    python -m tests.agreement.deep --seed 1 --count 20000 --jobs 2

Circuit number n of a seed is `circuit_of(seed + n)`; a disagreement names the number, and
`--seed NUMBER --count 1` shows it again with its traceback. Exit status 1 if anything disagreed.
"""

from __future__ import annotations

import argparse
import sys
import time
import traceback
from collections import Counter
from multiprocessing import get_context

from tests.agreement.circuits import circuit_of
from tests.agreement.compiled import compare_compiled
from tests.agreement.engines import compare_engines
from tests.agreement.races import compare_races
from verifier.simulation.explore import Exploration

# Races are compared on every circuit of so many: one costs about a third of all other comparisons.
RACES = 3


def compare(number: int) -> tuple[int, Counter[str], str]:
    """One circuit: its number, what was said, and the traceback of a disagreement or ""."""
    try:
        circuit = circuit_of(number)
        exploration = Exploration(circuit)
        compare_compiled(circuit, number, exploration)
        said = compare_engines(circuit, number, exploration)
        if number % RACES == 0:
            said[compare_races(circuit, exploration)] += 1
        return number, said, ""
    except Exception:
        return number, Counter(), traceback.format_exc()


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="tests.agreement.deep", description=__doc__)
    parser.add_argument("--seed", type=int, default=0, help="number of the first circuit")
    parser.add_argument("--count", type=int, default=1000, help="how many circuits")
    parser.add_argument("--jobs", type=int, default=1, help="how many at a time")
    options = parser.parse_args(arguments)
    numbers = range(options.seed, options.seed + options.count)
    said: Counter[str] = Counter()
    disagreed: list[int] = []
    begun = time.monotonic()
    with get_context("spawn").Pool(options.jobs) as pool:
        for done, (number, counts, trace) in enumerate(pool.imap(compare, numbers, 8), 1):
            said += counts
            if trace:
                disagreed.append(number)
                print(f"circuit {number}:\n{trace}", flush=True)
            if done % 500 == 0:
                print(f"{done} circuits, {len(disagreed)} disagreements", flush=True)
    for what, count in sorted(said.items()):
        print(f"{count:9}  {what}")
    print(f"{options.count} circuits, {len(disagreed)} disagreements", end="")
    print(f", {time.monotonic() - begun:.0f} s")
    return 1 if disagreed else 0


if __name__ == "__main__":
    sys.exit(main())
