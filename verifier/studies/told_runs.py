"""The runs behind the stories of a study, as scripts that carry themselves out again."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec import structs

from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.report.result import DesignResult, InstanceResult, PropertyResult, Story
from verifier.runs.names import Names
from verifier.runs.play import play
from verifier.runs.record import recorded
from verifier.runs.script import Expects, Fact, Judged, Leaks, Line, Rests, Script, Wrong
from verifier.runs.stage import stage
from verifier.studies import contest
from verifier.studies.covering import told_by
from verifier.studies.study import Study


def told_runs(design: Circuit, result: DesignResult, study: Study) -> Iterator[tuple[str, Script]]:
    """A name and a script for every story of a violation or of what is possible, in the order of
    the result; what each shows is expected at its end.

    Raises EvidenceError if one of them, carried out, does not show it.
    """
    studies = (study, *study.tolerant.values())
    for item in result.properties:
        for case in item.instances:
            if case.story is None:
                continue
            circuit, run = run_of(studies, item, case.story)
            script = script_of(circuit, run, title_of(item, case), _shown(item, case))
            script = fitted(design, structs.replace(script, design=design.name))
            played = play(design, script)
            if played.problems:
                told = "; ".join(one.message for one in played.problems)
                raise EvidenceError(f"{item.name}: the run that was written down fails: {told}")
            yield slug(f"{item.name} {case.label}"), script


def run_of(studies: Sequence[Study], item: PropertyResult, story: Story) -> tuple[Circuit, Run]:
    """The run that the story tells, and the circuit that it is of. Raises EvidenceError."""
    for study in studies:
        runs = [*study.runs, *(run for run, _ in study.loops), *study.witnessed]
        for run in dict.fromkeys(runs):
            if told_by(study.circuit, story, run):
                return study.circuit, run
    raise EvidenceError(f"{item.name}: no run is the one that is told")


def script_of(circuit: Circuit, run: Run, title: str, shown: Sequence[Fact]) -> Script:
    """The run with what it shows expected at its end. Faults are those woven into the circuit."""
    expected = tuple(Line(Expects(fact)) for fact in shown)
    return Script(title, circuit.name, None, (*recorded(circuit, run), *expected))


def fitted(design: Circuit, script: Script, wrong: Wrong | None = None) -> Script:
    """Without leaks of ends of lines that no fault of this run can cut off: there a whole tube and
    its line are one volume, and its leak is the line's (P7)."""
    script = structs.replace(script, wrong=wrong or script.wrong)
    known = Names(stage(design, script)).volumes
    lines: list[Line] = []
    first = False
    for line in script.lines:
        first = first or not line.together
        if isinstance(line.what, Leaks) and line.what.volume not in known:
            continue
        lines.append(structs.replace(line, together=line.together and not first))
        first = False
    return structs.replace(script, lines=tuple(lines))


def title_of(item: PropertyResult, case: InstanceResult) -> str:
    where = f", for {case.label}" if case.label else ""
    return f"{item.name}{where}"


def _shown(item: PropertyResult, case: InstanceResult) -> tuple[Fact, ...]:
    if not item.free:
        word = "reached" if item.form == "possible" else "broken"
        return (Judged(item.name, case.label, "reached" if word == "reached" else "broken"),)
    if item.name == contest.NAME:
        return (Judged(item.name),)
    return (Rests(False),)


def slug(words: str) -> str:
    """A name for a file: letters, digits and dashes."""
    return re.sub(r"[^0-9a-z]+", "-", words.lower()).strip("-")[:80] or "run"
