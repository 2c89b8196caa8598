"""What was set out to be reached, and whether it was."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from msgspec import Struct

from tests.benchmarks.contestants import Figure
from tests.benchmarks.plan import Row

GIB = 1024.0


class Target(Struct, frozen=True):
    """reached: None when this run did not measure it.   found: what it measured, in words."""

    words: str
    reached: bool | None
    found: str


def targets(rows: Sequence[Row], heron: Figure | None) -> list[Target]:
    """Absolute figures are those of the whole command by the clock; its CPU seconds stand beside
    them, because a busy machine delays the one and not the other."""
    banks = [row for row in rows if row.member.family == "bank" and not row.member.flawed]
    large = [row for row in banks if row.member.sizes >= (8, 3)]
    hundred = _named(rows, "bank", (100, 4), flawed=False)
    thousand = _named(rows, "bank-within", (1000,), flawed=False)
    return [
        _least(
            "proofs of 8x3 banks and above at least 5 times faster than the best reference",
            [(row.member.name, row.ratio) for row in large],
            5.0,
        ),
        _least(
            "12x4 bank at least 100 times faster than z3's Horn engine",
            [(row.member.name, _against_horn(row)) for row in large if row.member.sizes == (12, 4)],
            100.0,
        ),
        _least(
            "never slower than 1.5 times the best reference (2/3 as fast), any family",
            [(row.member.name, row.ratio) for row in rows],
            1 / 1.5,
        ),
        _seconds("prove on the 100x4 bank in under 10 s", hundred, 10.0),
        _seconds("prove on a 1,000-compartment bank in under 60 s", thousand, 60.0),
        _seconds("a violation of 40 or more steps told in under 10 s", _deep(rows), 10.0),
        _memory("prove on the 100x4 bank with under 1 GiB", hundred),
        _seconds(
            "prove on the three-compartment design from a cold start in under 1 s", heron, 1.0
        ),
    ]


def _named(rows: Sequence[Row], family: str, sizes: tuple[int, ...], flawed: bool) -> Figure | None:
    for row in rows:
        member = row.member
        if (member.family, member.sizes, member.flawed) == (family, sizes, flawed):
            return row.whole
    return None


def _deep(rows: Sequence[Row]) -> Figure | None:
    """The slowest member whose flaw takes 40 steps to show."""
    deep = [
        row.whole
        for row in rows
        if row.member.family == "deep"
        and any(length is not None and length >= 40 for length in row.member.violated.values())
    ]
    return max(deep, key=lambda figure: figure.wall, default=None)


def _against_horn(row: Row) -> float | None:
    """Times as long as ours; of one that ran out of time, at least what it had."""
    horn = row.references.get("horn")
    if horn is None or not row.ours.decided or horn.outcome in ("skipped", "failed"):
        return None
    return (horn.cost or horn.whole) / row.ours.cost


def _least(words: str, found: Sequence[tuple[str, float | None]], wanted: float) -> Target:
    """The smallest of the ratios counts."""
    known = [(ratio, name) for name, ratio in found if ratio is not None]
    if not known:
        return Target(words, None, "not measured")
    ratio, name = min(known)
    short = sum(one < wanted for one, _ in known)
    return Target(
        words,
        ratio >= wanted,
        f"least {ratio:.2f} times ({name}), {short} of {len(known)} below {wanted:.2f}",
    )


def _judged(words: str, figure: Figure | None, judge: Callable[[Figure], Target]) -> Target:
    if figure is None or figure.outcome == "not asked":
        return Target(words, None, "not measured")
    if not figure.decided:
        return Target(words, False, f"{figure.outcome} {figure.why}".strip())
    return judge(figure)


def _seconds(words: str, figure: Figure | None, most: float) -> Target:
    def judge(one: Figure) -> Target:
        found = f"{one.wall:.2f} s by the clock, {one.whole:.2f} s of CPU"
        return Target(words, one.wall < most, found)

    return _judged(words, figure, judge)


def _memory(words: str, figure: Figure | None) -> Target:
    def judge(one: Figure) -> Target:
        return Target(words, one.peak < GIB, f"peak {one.peak:.0f} MiB")

    return _judged(words, figure, judge)


def lines(found: Sequence[Target]) -> Iterator[str]:
    for one in found:
        state = {True: "reached", False: "missed", None: "open"}[one.reached]
        yield f"{state:8} {one.words}: {one.found}"
