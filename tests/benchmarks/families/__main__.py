"""Prints one member of a family.

python -m tests.benchmarks.families NAME SIZE ... [--flawed]
"""

from __future__ import annotations

import argparse

from tests.benchmarks.families import FAMILIES


def main() -> None:
    listed = "\n".join(
        f"  {family.name} {' '.join(family.sizes).upper()}: {family.what}"
        for family in FAMILIES.values()
    )
    parser = argparse.ArgumentParser(
        prog="tests.benchmarks.families",
        description=f"Prints one member of a family:\n{listed}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("family", choices=FAMILIES)
    parser.add_argument("sizes", type=int, nargs="+")
    parser.add_argument("--flawed", action="store_true", help="the member with the flaw")
    options = parser.parse_args()
    try:
        member = FAMILIES[options.family].member(*options.sizes, flawed=options.flawed)
    except ValueError as error:
        parser.error(str(error))
    print(member.text, end="")


if __name__ == "__main__":
    main()
