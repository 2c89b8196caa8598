"""The check of a run: the simulator, which shares nothing with the compiler, must agree."""

from __future__ import annotations

from collections.abc import Callable

from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.simulation.judging import violation
from verifier.simulation.replay import Checked, ReplayError, replay


def believe_run(
    circuit: Circuit,
    run: Run,
    ends: Callable[[Run], bool],
    what: str,
    checked: Checked | None = None,
) -> None:
    """Raises EvidenceError unless the run is one of the circuit and `ends`, which the simulator
    decides, agrees to its end. `what` names the property. checked: as in `replay`."""
    try:
        replay(circuit, run, checked)
    except ReplayError as refusal:
        raise EvidenceError(f"{what}: the run does not replay: {refusal}") from refusal
    if not ends(run):
        raise EvidenceError(f"{what}: the end of the run does not show what it should")


def believe(circuit: Circuit, property_index: int, instance_index: int, run: Run) -> None:
    """Raises EvidenceError unless the run is one of the circuit and its last state shows what is
    claimed: a breach of the instance, or what a *possible* asks for."""
    prop = circuit.properties[property_index]
    instance = prop.instances[instance_index]
    believe_run(circuit, run, lambda one: violation(circuit, prop, instance, one), prop.name)
