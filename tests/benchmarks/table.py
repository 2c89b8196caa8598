"""One command, one table: our search beside the references, on families that grow.

    python -m tests.benchmarks.table [--quick] [--family NAME ...] [--seconds N] [--jobs N]
    python -m tests.benchmarks.table --log FILE     # goes on where it was interrupted

All seconds are of CPU unless they say otherwise. Every contestant gets one question about each
member: can anything be broken that is asked about? `search` and `check` (the certificate by a fresh
z3, or the replay) leave out process start, reading and compiling, for us as for the references,
which start from our AIGER file or our graph. `ratio` is best reference / (search + check): above 1
we are faster. `prove` is the whole command from a cold start on all that the design promises.
"""

from __future__ import annotations

import argparse
import statistics
import sys
from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct

from tests.benchmarks import targets
from tests.benchmarks.child import Limit
from tests.benchmarks.contestants import REFERENCES, Figure
from tests.benchmarks.growth import growth
from tests.benchmarks.plan import QUICK, STANDARD, Course, Row, Sizes, heron, measure
from tests.log import Log, digest

# Seconds that each process of the standard table may take.
CAP = 10.0
SHORT = {
    "out of memory": "memory",
    "failed": "failed",
    "skipped": "skipped",
    "not asked": "-",
    "unknown": "unknown",
}
LEGEND = (
    ">N, memory: ended by its limit, of N seconds. skipped: ended so on a smaller member. -: not "
    "what it is for. unknown: gave up by itself."
)
AS_RATIOS = (
    "Of the references, how many times as long as ours (search and check) their search takes: "
    "above 1 we are faster. "
)


def seconds(figure: Figure, value: float, cap: float) -> str:
    if figure.outcome == "out of time":
        return f">{cap:g}"
    return short(value) if figure.decided else SHORT[figure.outcome]


def short(value: float) -> str:
    return f"{value:.3f}" if value < 10 else f"{value:.1f}"


def beside(row: Row, name: str, cap: float) -> str:
    """A reference as a multiple of ours."""
    figure, ours = row.references[name], row.ours
    if not ours.decided or not (figure.decided or figure.outcome == "out of time"):
        return seconds(figure, figure.search, cap)
    least = figure.cost if figure.decided else cap
    return f"{'' if figure.decided else '>'}{least / ours.cost:.2f}"


class Shown(Struct, frozen=True):
    """cap: seconds after which a process was ended.   ratios: references as multiples of ours."""

    cap: float
    ratios: bool = False
    markdown: bool = False


def header(names: Sequence[str]) -> list[str]:
    own = ["parts", "latches", "compile", "search", "check"]
    return ["member", *own, *names, "best", "ratio", "prove", "wall", "MiB"]


def cells(row: Row, names: Sequence[str], shown: Shown) -> list[str]:
    """One line of the table."""
    cap = shown.cap
    ours, best, ratio, whole = row.ours, row.best, row.ratio, row.whole
    sizes = [str(n) for n in ours.sizes[:2]] if any(ours.sizes) else ["", ""]
    return [
        row.member.name,
        *sizes,
        seconds(ours, ours.compile, cap),
        seconds(ours, ours.search, cap),
        seconds(ours, ours.check, cap),
        *(
            beside(row, name, cap)
            if shown.ratios
            else seconds(row.references[name], row.references[name].search, cap)
            for name in names
        ),
        best[0] if best else "",
        f"{ratio:.2f}" if ratio is not None else "",
        seconds(whole, whole.whole, cap),
        seconds(whole, whole.wall, cap),
        f"{whole.peak:.0f}" if whole.decided else "",
    ]


def drawn(rows: Sequence[Sequence[str]], markdown: bool) -> list[str]:
    """Columns aligned; the first to the left, the others to the right."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    lines = []
    for row in rows:
        filled = [
            cell.rjust(width) if k else cell.ljust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append(f"| {' | '.join(filled)} |" if markdown else "  ".join(filled).rstrip())
    if markdown:
        rule = "|".join(f"-{'-' * width}{':' if k else '-'}" for k, width in enumerate(widths))
        lines.insert(1, f"|{rule}|")
    return lines


def besides(rows: Sequence[Row]) -> str:
    """What the figures leave out: the middle one of all members, for each contestant."""
    spent: dict[str, list[float]] = {}
    for row in rows:
        for name, one in {"ours": row.ours, **row.references}.items():
            if one.decided:
                spent.setdefault(name, []).append(one.whole - one.cost)
    shown = [f"{name} {statistics.median(every):.3f}" for name, every in spent.items()]
    return f"Process start, reading and compiling, in the middle: {', '.join(shown)}."


def report(rows: Sequence[Row], names: Sequence[str], cold: Figure | None, shown: Shown) -> str:
    """The table, growth and targets."""
    lines = drawn([header(names), *(cells(row, names, shown) for row in rows)], shown.markdown)
    lines += [
        "",
        f"{AS_RATIOS if shown.ratios else ''}{LEGEND}",
        besides(rows),
        "",
        "Growth: exponents over the number of parts, of search and check, and",
    ]
    lines += ["of the whole command.", ""]
    for (family, flawed), pair in growth(rows).items():
        exponents = [f"{one:6.2f}" if one is not None else "     -" for one in pair]
        lines.append(f"  {family + (' flawed' if flawed else ''):20} {'  '.join(exponents)}")
    lines += ["", "Targets", ""]
    lines += [f"  {line}" for line in targets.lines(targets.targets(rows, cold))]
    wrong = [f"  {row.member.name}: {', '.join(row.disagreements())}" for row in rows]
    wrong = [line for line, row in zip(wrong, rows, strict=True) if row.disagreements()]
    if wrong:
        lines += ["", "DISAGREEMENTS", "", *wrong]
    for row in rows:
        for name, figure in {"ours": row.ours, **row.references, "prove": row.whole}.items():
            if figure.outcome == "failed":
                lines.append(f"{row.member.name}, {name} failed: {figure.why}")
    return "\n".join(lines) + "\n"


def chosen(options: argparse.Namespace) -> dict[str, list[Sizes]]:
    """Families and sizes to measure. Raises ValueError for a family that there is not."""
    plan = QUICK if options.quick else STANDARD
    if options.family:
        strange = sorted(set(options.family) - set(STANDARD))
        if strange:
            raise ValueError(f"there is no family {strange[0]}; there are {', '.join(STANDARD)}")
        plan = {name: plan.get(name, STANDARD[name][:1]) for name in options.family}
    if options.sizes:
        if len(plan) != 1:
            raise ValueError("--sizes is for one --family")
        plan = {name: [tuple(map(int, one.split("x"))) for one in options.sizes] for name in plan}
    return plan


def arguments() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tests.benchmarks.table",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--quick", action="store_true", help="small members, about a minute")
    parser.add_argument("--family", nargs="+", default=[], help="only these families")
    parser.add_argument("--sizes", nargs="+", default=[], help="of the family, for example 12x4")
    parser.add_argument(
        "--seconds", type=float, default=0.0, help=f"CPU limit of each process: {CAP:g}, quick 3"
    )
    parser.add_argument("--mebibytes", type=int, default=4096, help="memory limit of each process")
    parser.add_argument("--references", nargs="*", help="only these; none for our figures alone")
    parser.add_argument("--runs", type=int, default=1, help="the least of so many counts")
    parser.add_argument("--jobs", type=int, default=1, help="members measured at the same time")
    parser.add_argument("--no-prove", action="store_true", help="leave out the whole command")
    parser.add_argument("--ratios", action="store_true", help="references as multiples of ours")
    parser.add_argument("--markdown", action="store_true")
    parser.add_argument("--log", type=Path, help="rows are kept there; what it has is not measured")
    return parser


def main(given: Sequence[str] | None = None) -> int:
    """Exit status 1 if somebody's verdict is wrong."""
    parser = arguments()
    options = parser.parse_args(given)
    known = {one.name: one for one in REFERENCES}
    names = list(known) if options.references is None else options.references
    try:
        plan = chosen(options)
        references = tuple(known[name] for name in names)
    except (ValueError, KeyError) as error:
        parser.error(str(error))
    course = Course(
        Limit(options.seconds or (3.0 if options.quick else CAP), options.mebibytes),
        references,
        options.runs,
        options.jobs,
        not options.no_prove,
        Log(options.log, digest(("verifier/**/*.py", "tests/benchmarks/**/*.py"))),
    )
    rows = measure(plan, course, lambda name: print(name, file=sys.stderr, flush=True))
    cold = heron(course) if course.whole else None
    shown = Shown(course.limit.seconds, options.ratios, options.markdown)
    print(report(rows, names, cold, shown), end="")
    return 1 if any(row.disagreements() for row in rows) else 0


if __name__ == "__main__":
    sys.exit(main())
