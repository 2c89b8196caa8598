"""The obligations behind the proofs of a design, for any solver that reads SMT-LIB."""

from __future__ import annotations

from verifier.model.load import Loaded
from verifier.studies.options import Options
from verifier.studies.prove import decide_all
from verifier.transition import smt2


def obligations_text(loaded: Loaded, options: Options | None = None) -> str:
    """One script; between proofs it resets. Every check-sat must answer unsat.

    Raises what `prove` raises.
    """
    study, _ = decide_all(loaded, options or Options())
    parts = [
        f"; shutproof: proof obligations of {loaded.circuit.name}; every answer must be unsat\n"
    ]
    for number, claim in enumerate(study.inquiry.claims):
        if number:
            parts.append("(reset)\n")
        names = ", ".join(goal.name for goal in claim.goals)
        script = smt2.obligations_text(claim.system, claim.goals, claim.proofs)
        parts.append(f"; {names}\n{script}")
    return "".join(parts)
