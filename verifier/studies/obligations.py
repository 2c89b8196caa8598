"""The obligations behind the proofs of a design, for any solver that reads SMT-LIB."""

from __future__ import annotations

from verifier.evidence.claims import in_words, posed
from verifier.model.load import Loaded
from verifier.studies.claims import claims_of
from verifier.studies.options import Options
from verifier.studies.prove import decide_all
from verifier.transition import smt2
from verifier.transition.compile import compile_circuit


def obligations_text(loaded: Loaded, options: Options | None = None) -> str:
    """One script; between proofs it resets. Every check-sat must answer unsat.

    Raises what `prove` raises.
    """
    study, _ = decide_all(loaded, options or Options())
    compiled = compile_circuit(loaded.circuit)
    name = loaded.circuit.name
    parts = [f"; shutproof: proof obligations of {name}; every answer must be unsat\n"]
    for number, claim in enumerate(claims_of(study)):
        if number:
            parts.append("(reset)\n")
        told = (f"{smt2.comment(line)}\n" for line in in_words(compiled, claim).splitlines())
        parts += (*told, smt2.script(posed(compiled, claim)))
    return "".join(parts)
