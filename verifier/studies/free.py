"""What the answers to the properties that come with every design have in common (Q9)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from verifier.model.circuit import Circuit, Instance
from verifier.model.condition import Always
from verifier.report.result import InstanceResult, PropertyResult
from verifier.studies.inquiry import Proven
from verifier.studies.modelling import in_force
from verifier.studies.study import proof_of, used_assumptions

WHOLE = Instance("", Always(True), "the design as a whole")
"""Free properties have one instance, which no quantifier made."""


def free_result(
    circuit: Circuit,
    name: Literal["comes to rest", "no contest", "no race"],
    answer: InstanceResult,
    proofs: Sequence[Proven] = (),
) -> PropertyResult:
    """The result of a free property with its only answer."""
    return PropertyResult(
        name=name,
        form=name,
        free=True,
        moment="every_moment",
        verdict=answer.verdict,
        instances=(answer,),
        proof=proof_of(proofs),
        assumptions=used_assumptions(circuit, proofs),
        modelling=tuple(one.name for one in in_force(name)),
    )
