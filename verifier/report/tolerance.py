"""Which faults a verdict considers, and which it leaves out on what grounds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from verifier.report.result import PropertyResult
from verifier.report.story import Wrap

MOST_NAMED = 4


def fault_lines(item: PropertyResult, wrap: Wrap) -> Iterator[str]:
    if item.tolerating is None:
        return
    told = item.tolerating
    count = len(told.faults)
    noun = "fault is" if count == 1 else "faults are"
    yield from wrap(f"tolerating {told.words}: {count} {noun} considered", " " * 6, "  ")
    for one in told.left_out:
        words = f"assumed not to happen: {_listed(one.faults)}, because {one.reason}"
        yield from wrap(f"{words} ({one.source})", " " * 6, "  ")


def _listed(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return ", ".join(names[:MOST_NAMED]) + more
