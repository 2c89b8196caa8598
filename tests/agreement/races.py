"""*no race* against explicit search, on one circuit.

`compare_races(circuit)` asks the study for its verdict and demands: what it proves is true of the
explicit graph; every race that it tells is one there, between runs that replay, differ in order
only and end at rest in different positions; and what it says decides, does.
"""

from __future__ import annotations

from tests.agreement.cases import Disagreement
from verifier.engines.engine import Budget
from verifier.evidence.coverage import but_for, no_others
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit
from verifier.model.run import Parting
from verifier.report.result import PropertyResult
from verifier.simulation.explore import Exploration
from verifier.simulation.movement import at_rest
from verifier.simulation.races import RaceAnswer, accepted, races
from verifier.simulation.replay import replay
from verifier.studies.claims import claims_of
from verifier.studies.inquiry import Inquiry
from verifier.studies.names import element_name
from verifier.studies.parting import beyond
from verifier.studies.races import decide
from verifier.studies.study import Study
from verifier.transition.compile import compile_circuit

BUDGET = Budget(conflicts=500_000, depth=80)


def compare_races(circuit: Circuit, exploration: Exploration | None = None) -> str:
    """What was said. Raises Disagreement, or the error of evidence that refuses."""
    truth = races(exploration or Exploration(circuit))
    if not truth.complete:
        raise ValueError("the circuit has too many states to know the truth")
    inquiry = Inquiry(None, BUDGET)
    compiled = compile_circuit(circuit)
    study = Study(circuit, compiled, agree(compiled), inquiry, every_case=True)
    found = decide(study)
    if found.verdict == "holds" and truth.apart:
        raise Disagreement(f"no race is proved, but elements {truth.apart} are in one")
    if found.verdict == "delay dependent":
        _compare_told(study, found, truth)
        _compare_proved(study, found, truth)
        _compare_others(study, found, truth)
    others = f", others {found.others}" if found.others else ""
    return f"no race {found.verdict}{', order' * bool(truth.firm)}{others}"


def _compare_told(study: Study, found: PropertyResult, truth: RaceAnswer) -> None:
    circuit = study.circuit
    for instance, (parting, element) in zip(found.instances, study.partings, strict=True):
        if element not in truth.apart or instance.label != element_name(circuit, element):
            raise Disagreement(f"{instance.label} is in no race")
        _check_runs(circuit, parting, element)
        if instance.race is None:
            raise Disagreement(f"how {instance.label} parts is not told")
        if instance.race.decided_by == "order" and element not in truth.firm:
            raise Disagreement(f"order does not decide where {instance.label} stops")


def _compare_others(study: Study, found: PropertyResult, truth: RaceAnswer) -> None:
    """Races that the design does not accept are told as such, or shown not to be there."""
    told = zip(found.instances, study.partings, strict=True)
    for instance, (parting, element) in told:
        one = accepted(study.circuit, parting.first.states[-1], element)
        if instance.accepted != (one.reason if one else ""):
            raise Disagreement(f"{instance.label} is accepted for another reason")
        if not instance.accepted and element not in truth.unaccepted:
            raise Disagreement(f"{instance.label} is in accepted races only")
    unaccepted = not all(instance.accepted for instance in found.instances)
    if found.others == "none" and (unaccepted or truth.unaccepted):
        raise Disagreement(f"elements {truth.unaccepted} are in races that are not accepted")
    if bool(found.others) == unaccepted:
        raise Disagreement("whether there are other races is told where it should not be, or not")
    if found.others == "none" and not no_others(study.circuit, claims_of(study)):
        raise Disagreement("nothing carries that there are no other races")


def _check_runs(circuit: Circuit, parting: Parting, element: int) -> None:
    ends = []
    for run in (parting.first, parting.second):
        replay(circuit, run)
        ends.append(run.states[-1])
        if run.steps[: parting.shared] != parting.first.steps[: parting.shared]:
            raise Disagreement("the runs do not share what they should")
    if not all(at_rest(circuit, end) for end in ends):
        raise Disagreement("a way does not end at rest")
    if ends[0].positions[element] == ends[1].positions[element]:
        raise Disagreement("both ways end alike")
    # The event is the last step that does anything from outside; rest comes before it.
    events = [
        k
        for run in (parting.first, parting.second)
        for k, step in enumerate(run.steps)
        if step.acting
        or (run.states[k].hands, run.states[k].settings) != (step.state.hands, step.state.settings)
    ]
    last = max(events, default=0)
    if last >= parting.shared and events:
        raise Disagreement("the ways differ in events")
    before = parting.first.states[last : parting.shared + 1]
    if last and not any(at_rest(circuit, state) for state in before):
        raise Disagreement("the event does not come at rest")


def _compare_proved(study: Study, found: PropertyResult, truth: RaceAnswer) -> None:
    """What is said of everything else follows from the proofs, and is true."""
    if not found.reason:
        return
    claims = claims_of(study)
    known = next(
        (
            but
            for claim in claims
            if (but := but_for([claim, *claims[1:2]])) is not None
            and beyond(study.circuit, but) == found.reason
        ),
        None,
    )
    if known is None:
        raise Disagreement(f"nothing carries {found.reason!r}")
    loose, unread = known
    apart = truth.apart if unread else truth.firm
    if not set(apart) <= set(loose):
        raise Disagreement(f"{found.reason} But elements {apart} end differently")
