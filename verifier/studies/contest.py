"""*no contest*: supply and exhaust never fight in a volume (Q9)."""

from __future__ import annotations

import functools
from typing import Final

from verifier.report.result import InstanceResult, PropertyResult
from verifier.simulation.judging import fights
from verifier.studies.free import WHOLE, free_result
from verifier.studies.inquiry import Found, Proven
from verifier.studies.study import Asked, Study, unsettled
from verifier.studies.wording import fight_outcome
from verifier.transition.decode import run_of

NAME: Final = "no contest"


def decide(study: Study) -> PropertyResult:
    """The verdict on the design."""
    circuit = study.circuit
    decode = functools.partial(run_of, study.compiled)
    asked = Asked(study.compiled.system, study.compiled.contest, decode)
    (settled,) = study.settle([(0, asked)])
    if isinstance(settled, Proven):
        return free_result(circuit, NAME, InstanceResult("", "holds", NAME), (settled,))
    if isinstance(settled, Found):
        story = study.story(
            asked,
            settled,
            lambda run: fights(circuit, run.states[-1]),
            lambda run: fight_outcome(circuit, run),
            NAME,
        )
        return free_result(circuit, NAME, InstanceResult("", "violated", NAME, story=story))
    return free_result(
        circuit, NAME, unsettled(WHOLE, settled, "It is open whether supply and exhaust can fight.")
    )
