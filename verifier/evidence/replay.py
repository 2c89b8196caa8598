"""The check of a run: the simulator, which shares nothing with the compiler, must agree."""

from __future__ import annotations

from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.simulation.judging import violation
from verifier.simulation.replay import ReplayError, replay


def believe(circuit: Circuit, property_index: int, instance_index: int, run: Run) -> None:
    """Raises EvidenceError unless the run is one of the circuit and its last state shows what is
    claimed: a breach of the instance, or what a *possible* asks for."""
    prop = circuit.properties[property_index]
    instance = prop.instances[instance_index]
    try:
        replay(circuit, run)
    except ReplayError as refusal:
        raise EvidenceError(f"{prop.name}: the run does not replay: {refusal}") from refusal
    if not violation(circuit, prop, instance, run):
        raise EvidenceError(f"{prop.name}: the end of the run does not show what it should")
