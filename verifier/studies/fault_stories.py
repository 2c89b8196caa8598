"""The story of one cut set: a run with these faults and no others."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.engine import Budget
from verifier.evidence.error import EvidenceError
from verifier.evidence.replay import believe_run
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.model.strikes import Strike
from verifier.report.result import Story
from verifier.simulation.judging import violation
from verifier.studies.fault_questions import woven_of
from verifier.studies.idle import without_idle_events
from verifier.studies.inquiry import Inquiry
from verifier.studies.prove import DECIDE
from verifier.studies.story import tell
from verifier.studies.study import Study
from verifier.studies.wording import outcome
from verifier.transition.compile import compile_circuit


def story_of(circuit: Circuit, chosen: Sequence[Strike], number: int, budget: Budget) -> Story:
    """A shortest one. Of the property with this number, which the faults are known to break. Raises
    EvidenceError if they do not."""
    woven = woven_of(circuit, chosen, [number]).circuit
    compiled = compile_circuit(woven)
    study = Study(woven, compiled, agree(compiled), Inquiry(None, budget))
    item = woven.properties[0]
    answer = DECIDE[item.form](study, 0)
    for instance in answer.instances:
        if instance.story is not None:
            return instance.story
    raise EvidenceError(f"{item.name}: no run was found again with these faults")


def story_from(circuit: Circuit, chosen: Sequence[Strike], number: int, run: Run) -> Story:
    """As `story_of`, from a run by which the faults were known to break it, with nothing idle in
    it; it need not be a shortest one. Raises EvidenceError if the run does not break it."""
    woven = woven_of(circuit, chosen, [number]).circuit
    item = woven.properties[0]
    broken = [one for one in item.instances if violation(woven, item, one, run)]
    if not broken:
        raise EvidenceError(f"{item.name}: the run that was kept does not break it")

    def breaks(other: Run) -> bool:
        return violation(woven, item, broken[0], other)

    simple = without_idle_events(woven, run, breaks)
    believe_run(woven, simple, breaks, item.name)
    return tell(woven, simple, outcome(woven, item, broken[0], simple), shortest=False)
