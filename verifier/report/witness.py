"""How that happens of which a property that holds speaks (Q14)."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.report.result import PropertyResult
from verifier.report.story import Wrap, story_lines


def witness_lines(item: PropertyResult, wrap: Wrap) -> Iterator[str]:
    """The witnesses one after the other, or why there is none."""
    if item.no_witness:
        yield from wrap(f"No witness: {item.no_witness}.", " " * 6, "  ")
    for one in item.instances:
        if one.witnesses and one.label:
            yield from wrap(f"witness for {one.label}:", " " * 4)
        elif one.witnesses:
            yield from wrap("witness:", " " * 4)
        for number, story in enumerate(one.witnesses):
            if number:
                yield from wrap("and:", " " * 4)
            yield from story_lines(story, wrap, procedure=False)
