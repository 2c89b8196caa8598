"""How much of what is changed in our own code do our own tests notice?

    python -m tests.mutation --seed 1 --count 40            # of each group, drawn at random
    python -m tests.mutation pressure --count 1000000       # all of one group
    python -m tests.mutation --table                        # those that are known to live
    python -m tests.mutation --at verifier/transition/graph.py:65:      # those of one line

What lives and is not in survivors.toml is a hole in the tests, or has to be explained there; what
is there and does not live any more is named. Exit status 1 if there is anything of either kind.
With `--log FILE` an interrupted run goes on where it was.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

from tests.log import Log, digest
from tests.mutation.groups import GROUPS, Group
from tests.mutation.killing import fate_of, measured, prepare
from tests.mutation.mutants import Mutant, mutants_of
from tests.mutation.survivors import Survivor, survivors

# A mutant may take this many times what the tests take without it, and this many seconds more.
PATIENCE = (3.0, 10.0)


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="tests.mutation", description=__doc__.split("\n")[0])
    parser.add_argument("groups", nargs="*", help=", ".join(group.name for group in GROUPS))
    parser.add_argument("--seed", type=int, default=1, help="of the draw")
    parser.add_argument("--count", type=int, default=40, help="how many mutants of each group")
    parser.add_argument("--at", metavar="PATH:LINE", help="all whose place begins like this")
    parser.add_argument("--table", action="store_true", help="only what survivors.toml lists")
    parser.add_argument("--log", type=Path, help="finished mutants are kept in this file")
    options = parser.parse_args(arguments)
    prepare()
    log = Log(options.log, digest(("verifier/**/*.py", "tests/**/test_*.py", "tests/*/*.py")))
    known = survivors()
    holes, revived = 0, 0
    for group in GROUPS:
        if options.groups and group.name not in options.groups:
            continue
        every = [mutant for path in group.paths() for mutant in mutants_of(path)]
        drawn = _drawn(every, options, known)
        fates: Counter[str] = Counter()
        for mutant, fate in _fates(group, drawn, log):
            listed = Survivor.of(mutant) in known
            holes += fate == "survived" and not listed
            revived += fate != "survived" and listed
            fates[f"{fate}{', explained' if listed and fate == 'survived' else ''}"] += 1
            if (fate == "survived") != listed:
                word = "now noticed" if listed else "not noticed"
                print(f"{word}: {mutant.path}:{mutant.line} {mutant.change}", flush=True)
        told = ", ".join(f"{count} {fate}" for fate, count in sorted(fates.items()))
        print(f"{group.name}: {len(drawn)} of {len(every)} mutants: {told}", flush=True)
    return 1 if holes or revived else 0


def _drawn(
    every: list[Mutant], options: argparse.Namespace, known: frozenset[Survivor]
) -> list[Mutant]:
    if options.table:
        return [mutant for mutant in every if Survivor.of(mutant) in known]
    if options.at:
        return [one for one in every if f"{one.path}:{one.line}:".startswith(options.at)]
    return Random(options.seed).sample(every, min(options.count, len(every)))


def _fates(group: Group, mutants: list[Mutant], log: Log) -> Iterator[tuple[Mutant, str]]:
    past: dict[tuple[Any, ...], str] = {
        (line["path"], line["place"]): line["fate"] for line in log.lines
    }
    limit = 0.0
    for mutant in mutants:
        fate = past.get((mutant.path, mutant.place))
        if fate is None:
            limit = limit or PATIENCE[0] * measured(group.tests) + PATIENCE[1]
            fate, seconds = fate_of(mutant, group.tests_of(mutant.path), limit)
            log.add(
                path=mutant.path,
                place=mutant.place,
                text=mutant.text,
                change=mutant.change,
                fate=fate,
                seconds=round(seconds, 2),
            )
        yield mutant, fate


if __name__ == "__main__":
    sys.exit(main())
