"""A sequence of a bundle for people: what it shows, and its story."""

from __future__ import annotations

from collections.abc import Iterable

from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.report.manifest import Carrying
from verifier.report.story import story_lines
from verifier.report.text import wrapped
from verifier.studies.story import tell


def sequence_text(
    circuit: Circuit, run: Run, loop_from: int | None, number: str, carrying: Iterable[Carrying]
) -> bytes:
    """Which verdicts rest on it, and all that happens in it."""
    lines: list[str] = []
    for item in carrying:
        for case in item.cases:
            for shown in case.sequences:
                if shown.sequence == number:
                    label = f", {case.label}" if case.label else ""
                    what = f'"{item.name}"{label}: {case.verdict}'
                    lines += wrapped(f"after {shown.steps} steps it carries {what}", "", "  ")
    lines.append("")
    story = tell(circuit, run, "", shortest=False, loop_from=loop_from)
    lines += story_lines(story, wrapped, procedure=False)
    return ("\n".join(line.rstrip() for line in lines).rstrip() + "\n").encode()
