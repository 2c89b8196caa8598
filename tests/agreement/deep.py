"""Random circuits without end: everything that answers must agree.

    python -m tests.agreement.deep --seed 1 --count 20000 --jobs 2
    python -m tests.agreement.deep --seed 1 --count 50000 --log deep.log --shard 2/3
    python -m tests.agreement.deep --seed 1 --count 50000 --sum deep.log other.log

Circuit number n of a seed is `circuit_of(seed + n)`; a disagreement names the number, and
`--seed NUMBER --count 1` shows it again with its traceback. Exit status 1 if anything disagreed.

With a log each finished batch is kept in it, and a run that was interrupted goes on where it
stopped: the same command does what is missing. A log that was made with other source is refused
with status 2, as one cannot vouch for two versions. A shard K/N does each Nth batch, from the Kth;
each shard has a log of its own, and may run on a machine of its own. --sum computes nothing: it
adds up logs, and ends with status 3 if they leave circuits of the seed and count undone.
"""

from __future__ import annotations

import argparse
import sys
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from tests.agreement.circuits import circuit_of
from tests.agreement.compiled import FEWER_STATES, MOST_STATES, compare_compiled
from tests.agreement.engines import ALONE, compare_engines
from tests.agreement.orders import compare_orders
from tests.agreement.races import compare_races
from tests.agreement.ways import compare_ends
from tests.log import ROOT, Log, OtherSource, digest
from verifier.simulation.explore import Exploration
from verifier.simulation.races import races
from verifier.transition.compile import compile_circuit

# Races are compared on every circuit of so many, and rest: one costs as much as half of all other
# comparisons, and the other a fifth.
RACES = 10
REST = 3
# One circuit of so many is looked at from many states and by more questions of each engine. More
# circuits find more than more states of each do.
CLOSELY = 10
# Circuits of a batch; numbers of circuits are multiples of it where a batch begins.
BATCH = 20

# What is compared loads this when it is first asked for, and all else with this module.
LATER = "verifier/solving/horn_door.py"


def compare(number: int) -> tuple[Counter[str], str]:
    """One circuit: what was said, and the traceback of a disagreement or ""."""
    try:
        circuit = circuit_of(number)
        exploration = Exploration(circuit)
        closely = number % CLOSELY == 0
        states = MOST_STATES if closely else FEWER_STATES
        compare_compiled(circuit, number, exploration, states)
        alone = ALONE if closely else 1
        said = compare_engines(circuit, number, exploration, alone, number % REST == 0)
        if number % RACES == 0:
            said[compare_races(circuit, exploration)] += 1
            compiled = compile_circuit(circuit)
            compare_orders(compiled, exploration, number)
            said += compare_ends(compiled, races(exploration))
        return said, ""
    except Exception:
        return Counter(), traceback.format_exc()


def compare_batch(numbers: range) -> dict[str, Any]:
    """What a log keeps of a batch. seconds: the processor's."""
    begun = time.process_time()
    said: Counter[str] = Counter()
    disagreed = {}
    for number in numbers:
        counts, trace = compare(number)
        said += counts
        if trace:
            disagreed[str(number)] = trace
    seconds = round(time.process_time() - begun, 2)
    return {
        "first": numbers.start,
        "count": len(numbers),
        "said": dict(sorted(said.items())),
        "disagreed": disagreed,
        "seconds": seconds,
    }


def _loaded() -> list[str]:
    """The source that what is compared here runs."""
    files = [getattr(module, "__file__", None) for module in list(sys.modules.values())]
    paths = [Path(file) for file in files if file is not None]
    mine = [path.relative_to(ROOT) for path in paths if path.is_relative_to(ROOT)]
    return sorted(
        {
            LATER,
            *(
                path.as_posix()
                for path in mine
                if path.parts[0] == "verifier" or path.parts[:2] == ("tests", "agreement")
            ),
        }
    )


def batches(seed: int, count: int, shard: tuple[int, int] = (1, 1)) -> list[range]:
    """The batches of one shard of several, the first of which has number 1."""
    which, of = shard
    every = range(seed, seed + count)
    firsts = range(seed - seed % BATCH, seed + count, BATCH)
    whole = [range(max(f, every.start), min(f + BATCH, every.stop)) for f in firsts]
    return whole[which - 1 :: of]


def missing(wanted: list[range], log: Log) -> list[range]:
    """Batches with a circuit that the log does not have."""
    done = {
        number
        for line in log.lines
        for number in range(line["first"], line["first"] + line["count"])
    }
    return [numbers for numbers in wanted if not set(numbers) <= done]


def main(arguments: list[str] | None = None) -> int:
    options = _options(arguments)
    source = digest(_loaded())
    try:
        logs = [Log(path, source) for path in options.sum or [options.log]]
    except OtherSource as error:
        print(f"refused: {error}", file=sys.stderr)
        return 2
    shown = _Shown()
    wanted = batches(options.seed, options.count, options.shard)
    for log in logs:
        for line in log.lines:
            shown.take(line)
    left = wanted
    for log in logs:
        left = missing(left, log)
    if options.sum:
        shown.finish()
        print(f"{sum(map(len, left))} of {options.count} circuits are not done")
        return 1 if shown.disagreed else 3 if left else 0
    for done, line in enumerate(_lines(left, options.jobs), 1):
        logs[0].add(**line)
        shown.take(line)
        if done % 25 == 0:
            print(f"{shown.count} circuits, {len(shown.disagreed)} disagreements", flush=True)
    shown.finish()
    return 1 if shown.disagreed else 0


def _lines(left: list[range], jobs: int) -> Iterator[dict[str, Any]]:
    if jobs == 1:
        yield from map(compare_batch, left)
        return
    with get_context("spawn").Pool(jobs) as pool:
        yield from pool.imap_unordered(compare_batch, left)


class _Shown:
    """Adds up batches, each circuit once, and shows what disagrees."""

    def __init__(self) -> None:
        self.count = 0
        self.disagreed: list[str] = []
        self._said: Counter[str] = Counter()
        self._seconds = 0.0
        self._seen: set[int] = set()

    def take(self, line: dict[str, Any]) -> None:
        if line["first"] in self._seen:
            return
        self._seen.add(line["first"])
        self.count += line["count"]
        self._said += Counter(line["said"])
        self._seconds += line["seconds"]
        for number, trace in line["disagreed"].items():
            self.disagreed.append(number)
            print(f"circuit {number}:\n{trace}", flush=True)

    def finish(self) -> None:
        for what, count in sorted(self._said.items()):
            print(f"{count:9}  {what}")
        print(f"{self.count} circuits, {len(self.disagreed)} disagreements", end="")
        print(f", {self._seconds:.0f} s of the processor")


def _options(arguments: list[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="tests.agreement.deep",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--seed", type=int, default=0, help="number of the first circuit")
    parser.add_argument("--count", type=int, default=1000, help="how many circuits")
    parser.add_argument("--jobs", type=int, default=1, help="how many processes")
    parser.add_argument("--log", type=Path, metavar="FILE", help="keep finished batches there")
    parser.add_argument("--shard", type=_shard, default=(1, 1), metavar="K/N", help="part K of N")
    parser.add_argument("--sum", type=Path, nargs="+", metavar="FILE", help="add up logs")
    return parser.parse_args(arguments)


def _shard(text: str) -> tuple[int, int]:
    which, of = map(int, text.split("/"))
    if not 1 <= which <= of:
        raise argparse.ArgumentTypeError(f"{text} is none of {of} shards")
    return which, of


if __name__ == "__main__":
    sys.exit(main())
