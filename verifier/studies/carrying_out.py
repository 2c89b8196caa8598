"""A script carried out as a test, and the story of it."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from msgspec import structs

from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.report.story import Wrap, ending_lines, event_lines
from verifier.runs.play import Played, play
from verifier.runs.script import Begins, Expects, Script
from verifier.runs.write import fact_text, wrong_text
from verifier.studies.story import tell


def carried_out(circuit: Circuit, script: Script, seed: int | None = None) -> Played:
    """As `verifier.runs.play.play`, the order of moves drawn from a seed if there is one."""
    return play(circuit, script, None if seed is None else Random(seed))


def verdict(played: Played, script: Script) -> str:
    """`14 steps, 5 of 5 expectations met`."""
    expected = sum(isinstance(line.what, Expects) for line in script.lines)
    failed = sum(one.code == "E1012" for one in played.problems)
    stopped = [one for one in played.problems if one.code != "E1012"]
    looked = sum(isinstance(line.what, Expects) for line in script.lines[: len(played.at)])
    steps = len(played.run.steps)
    told = f"{steps} step{'' if steps == 1 else 's'}"
    if expected:
        told += f", {looked - failed} of {expected} expectation{'' if expected == 1 else 's'} met"
    return f"{told}, then it cannot go on" if stopped else told


def run_lines(played: Played, script: Script, wrap: Wrap) -> Iterator[str]:
    """The story, with what was expected where it was looked at."""
    if script.title:
        yield from wrap(script.title, "")
    if script.wrong is not None:
        yield from wrap(
            f"Wrongly connected: {wrong_text(script.wrong).removeprefix('wrong ')}.", ""
        )
    failed = {one.span for one in played.problems if one.code == "E1012"}
    shown, done = 0, 0
    for line, at in zip(script.lines, played.at, strict=False):
        if isinstance(line.what, Expects):
            yield from _events(played, shown, done, wrap)
            shown = done
            sign = "NOT as expected" if line.span in failed else "as expected"
            yield from wrap(f"{sign}: {fact_text(line.what.fact)}", "      ", "  ")
        elif isinstance(line.what, Begins):
            yield from _events(played, shown, done, wrap)
            shown = done
            yield from wrap("Now the procedure begins:", "      ")
        done = at
    yield from _events(played, shown, len(played.run.steps), wrap)
    end = tell(played.circuit, played.run, "", shortest=False).end
    yield from ending_lines(end, wrap, "")


def _events(played: Played, first: int, last: int, wrap: Wrap) -> Iterator[str]:
    """What happened from one step to another."""
    run = played.run
    part = Run(run.states[first], run.steps[first:last])
    story = tell(played.circuit, part, "", shortest=False)
    events = tuple(structs.replace(one, step=one.step + first) for one in story.events)
    yield from event_lines(events, wrap, "  ")
