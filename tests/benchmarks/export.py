"""Writes the question about one member in AIGER, reduced to what it depends on, for references.

python -m tests.benchmarks.export FILE MODEL FAMILY SIZE ... [--flawed]
"""

from __future__ import annotations

import argparse
from pathlib import Path

from tests.benchmarks.families import FAMILIES
from tests.benchmarks.question import circuit_of, pose
from verifier.transition.aiger import binary_file, numbered


def main() -> None:
    parser = argparse.ArgumentParser(prog="tests.benchmarks.export", description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("model", type=Path)
    parser.add_argument("family", choices=FAMILIES)
    parser.add_argument("sizes", type=int, nargs="+")
    parser.add_argument("--flawed", action="store_true")
    options = parser.parse_args()
    member = FAMILIES[options.family].member(*options.sizes, flawed=options.flawed)
    posed = pose(circuit_of(options.file), member)
    model = numbered(posed.compiled.system, [posed.goal], reduced=True)
    options.model.write_bytes(binary_file(model))


if __name__ == "__main__":
    main()
