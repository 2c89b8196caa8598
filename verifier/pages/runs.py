"""Runs that somebody wrote down, on a page: what happens in them, and what was expected where."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from msgspec import Struct, structs

from verifier.model.circuit import Circuit
from verifier.model.wrong_connections import wrongly_connected
from verifier.pages.drawn import Drawn
from verifier.pages.playing import Drawing
from verifier.pages.tale import Point, Tale, Teller
from verifier.runs.play import Played
from verifier.runs.script import Expects, Script
from verifier.runs.stage import wrong_of
from verifier.runs.write import fact_text, wrong_text
from verifier.studies.carrying_out import verdict
from verifier.studies.keeping import Told
from verifier.studies.story import tell

MET, UNMET = "\N{CHECK MARK}", "\N{BALLOT X}"


class CarriedOut(Struct, frozen=True):
    """A run of the design, or of the design wrongly connected, as it went."""

    path: Path
    script: Script
    played: Played


class ToldRun(Struct, frozen=True):
    """drawn: where it is played, None where it is the drawing of the design."""

    title: str
    file: str
    wrong: str
    verdict: str
    failed: bool
    tale: Tale
    drawn: Drawn | None
    drawing: Drawing


def told_runs(circuit: Circuit, runs: Sequence[CarriedOut]) -> list[ToldRun]:
    """Each with a name of its own on the page: `run-1`, `run-2` …"""
    return [_told(circuit, one, f"run-{number}") for number, one in enumerate(runs, 1)]


def _told(circuit: Circuit, one: CarriedOut, name: str) -> ToldRun:
    script, played = one.script, one.played
    story = tell(played.circuit, played.run, "", shortest=False)
    begins = played.run.procedure_from
    said = verdict(played, script)
    tale = Teller(lambda _: None, name).of_events(
        Told(played.circuit, played.run),
        story.events,
        script.title or one.path.name,
        heading="From the start (what shares a number happens at once):",
        end=story.end,
        outcome=f"{said[:1].upper()}{said[1:]}.",
        marks={} if begins is None else {begins: "Now the procedure begins:"},
        bad=False,
    )
    tale = structs.replace(tale, points=tuple(_with_looks(tale.points, one)))
    base, drawn = circuit, None
    if script.wrong is not None:
        base = wrongly_connected(circuit, wrong_of(circuit, script.wrong))
        drawn = Drawn(base, name)
    return ToldRun(
        title=tale.title,
        file=one.path.as_posix(),
        wrong="" if script.wrong is None else wrong_text(script.wrong).removeprefix("wrong "),
        verdict=said,
        failed=bool(played.problems),
        tale=tale,
        drawn=drawn,
        drawing=Drawing("main" if drawn is None else name, base, (tale,)),
    )


def _with_looks(points: Sequence[Point], one: CarriedOut) -> Iterator[Point]:
    """What was expected stands after the step at which it was looked at."""
    looks = list(_looks(one))
    for point in points:
        while looks and looks[0].step < point.step:
            yield looks.pop(0)
        yield point
    yield from looks


def _looks(one: CarriedOut) -> Iterator[Point]:
    """In the order of the run; last of all why it could not go on, if it could not."""
    why = {problem.span: problem for problem in one.played.problems}
    for line, at in zip(one.script.lines, one.played.at, strict=False):
        if isinstance(line.what, Expects):
            problem = why.pop(line.span, None)
            fact = fact_text(line.what.fact)
            if problem is None:
                yield Point(MET, at, "met", f"as expected: {fact}", "", (), "")
            else:
                told = problem.message.removeprefix("not as expected: ")
                yield Point(UNMET, at, "unmet", f"NOT as expected: {fact}", told, (), "")
    for problem in why.values():
        words = f"it cannot go on: {problem.message}"
        yield Point(UNMET, len(one.played.run.steps), "unmet", words, "", (), "")
