"""The check of two runs that part after the same event: the simulator must agree to both (Q11)."""

from __future__ import annotations

from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.run import Parting, Run
from verifier.simulation.movement import at_rest
from verifier.simulation.replay import ReplayError, replay

NAME = "no race"


def believe_parting(circuit: Circuit, parting: Parting, element: int) -> None:
    """Raises EvidenceError unless both are runs of the circuit and they part at the element."""
    for run in (parting.first, parting.second):
        try:
            replay(circuit, run)
        except ReplayError as refusal:
            raise EvidenceError(f"{NAME}: a run does not replay: {refusal}") from refusal
    objection = objection_to(circuit, parting, element)
    if objection:
        raise EvidenceError(f"{NAME}: {objection}")


def objection_to(circuit: Circuit, parting: Parting, element: int) -> str:
    """Why two runs of the circuit do not show that the end of one event depends on more; "" if they
    do: they begin alike, at the start or at rest in that at most one step is left before hands and
    surroundings stand still for good, and both end at rest with the element in different positions.
    """
    first, second, shared = parting.first, parting.second, parting.shared
    if not 0 <= shared <= min(len(first.steps), len(second.steps)):
        return "the runs are shorter than what they share"
    if (first.start, first.steps[:shared]) != (second.start, second.steps[:shared]):
        return "the runs do not begin alike"
    still = max(_still_from(first), _still_from(second))
    if still > shared:
        return "hands or surroundings make the difference"
    before = range(max(still - 1, 0), shared + 1)
    if not any(k == 0 or at_rest(circuit, first.states[k]) for k in before):
        return "the runs do not part after one event from rest"
    ends = [run.states[-1] for run in (first, second)]
    if not all(at_rest(circuit, end) for end in ends):
        return "a run does not end at rest"
    if ends[0].positions[element] == ends[1].positions[element]:
        return "both runs end alike"
    return ""


def pair_of(first: Run, second: Run) -> Parting:
    """Two runs from the start; what they share is all that they begin alike with."""
    pairs = enumerate(zip(first.steps, second.steps, strict=False))
    alike = min(len(first.steps), len(second.steps))
    return Parting(first, second, next((k for k, (a, b) in pairs if a != b), alike))


def _still_from(run: Run) -> int:
    """The number of steps after which no hand acts and no hand or switch changes any more."""
    states = run.states
    for number in range(len(run.steps), 0, -1):
        before, step = states[number - 1], run.steps[number - 1]
        after = step.state
        if step.acting or (before.hands, before.settings) != (after.hands, after.settings):
            return number
    return 0
