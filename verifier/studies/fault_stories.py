"""The story of one cut set: a shortest run with these faults and no others."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.engine import Budget
from verifier.evidence.error import EvidenceError
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit
from verifier.model.strikes import Strike
from verifier.report.result import Story
from verifier.studies.fault_questions import woven_of
from verifier.studies.inquiry import Inquiry
from verifier.studies.prove import DECIDE
from verifier.studies.study import Study
from verifier.transition.compile import compile_circuit


def story_of(circuit: Circuit, chosen: Sequence[Strike], number: int, budget: Budget) -> Story:
    """Of the property with this number, which the faults are known to break. Raises EvidenceError
    if they do not."""
    woven = woven_of(circuit, chosen, [number]).circuit
    compiled = compile_circuit(woven)
    study = Study(woven, compiled, agree(compiled), Inquiry(None, budget))
    item = woven.properties[0]
    answer = DECIDE[item.form](study, 0)
    for instance in answer.instances:
        if instance.story is not None:
            return instance.story
    raise EvidenceError(f"{item.name}: no run was found again with these faults")
