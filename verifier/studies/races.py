"""*no race*: after one event from rest, the end is the same in any order of movements (Q11)."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Sequence
from typing import Final, Literal

from msgspec import Struct, structs

from verifier.evidence.coverage import always_accepted
from verifier.evidence.parting import believe_parting
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.report.result import InstanceResult, PropertyResult
from verifier.simulation.races import accepted
from verifier.studies import rest
from verifier.studies.deciding import decided
from verifier.studies.free import WHOLE, free_result
from verifier.studies.inquiry import Found, Open, Proven, Settled
from verifier.studies.names import element_name
from verifier.studies.orders import (
    SEARCH,
    SIMPLEST,
    Part,
    part_of,
    search,
    share,
    shortened,
    simplified,
    tried,
)
from verifier.studies.parting import accepted_because, beyond, tell_parting, unmet
from verifier.studies.study import Study, unsettled
from verifier.transition.decode import choices_of, encode, run_of
from verifier.transition.racing import Case, Racing, racing_of
from verifier.transition.system import Reached
from verifier.transition.twofold import runs_of, twofold

NAME: Final = "no race"
Others = Literal["", "none", "open"]

# What the proof may spend: the budget divided by this, in conflicts and in steps.
PROOF = (4, 1)
# The proof by running the circuit twice is tried where the graph of that has at most so many nodes.
MOST_NODES = 6_000


class _Shown(Struct, frozen=True):
    """What was proved of orders by looking at one step at a time (racing.py).

    readings, leaks: that neither matters.   order: that no order matters, but for where the loose
    elements stop; it speaks of firm movements only, if readings are not shown.
    content: elements that were shown to be loose, as far as that goes without *order*.
    known: two orders that the last failure of *order* led to.
    """

    readings: bool
    leaks: bool
    order: bool
    loose: tuple[int, ...]
    content: tuple[int, ...]
    proofs: tuple[Proven, ...]
    known: Part | None


class _Try(Struct, frozen=True):
    """One attempt: what was asked, and the answers."""

    racing: Racing
    readings: Settled
    leaks: Settled
    order: Settled
    loose: Settled | None

    @property
    def proofs(self) -> list[Proven]:
        every = (self.readings, self.leaks, self.order, self.loose)
        return [answer for answer in every if isinstance(answer, Proven)]


def decide(study: Study) -> PropertyResult:
    """The verdict on the design."""
    circuit, shown = study.circuit, _shown(study)
    if shown.readings and shown.leaks and shown.order and not shown.loose:
        return _no_race(circuit, shown.proofs)
    parts, depth = _parts(study, shown)
    met = _accepted(study, shown)
    proofs, others = shown.proofs, _others(circuit, shown, met)
    while not parts and not others:
        found = _outright(study, but_accepted=bool(met))
        if isinstance(found, Part):
            (parts if found.accepted(circuit) is None else met).append(found)
        elif isinstance(found, Proven):
            if not met:
                return _no_race(circuit, (found,))
            proofs, others = (*proofs, found), "none"
        elif met:
            others = "open"
        else:
            open_one = Open(_why(study), depth)
            what = "It is open whether the order of movements can decide where this comes to rest."
            return _told(circuit, [unsettled(WHOLE, open_one, what)])
    return _delay_dependent(study, shown, [*parts, *met], proofs, "" if parts else others)


def _others(circuit: Circuit, shown: _Shown, met: Sequence[Part]) -> Others:
    """With nothing but accepted races: that there are no others may be shown already."""
    known = shown.order and shown.readings and set(shown.loose) <= always_accepted(circuit)
    return "none" if met and known else ""


def _shown(study: Study) -> _Shown:
    """What can be proved step by step, with as few loose elements as it takes."""
    rests = None if study.circuit.runs_on else rest.settled(study)
    case: Case = "persistent" if rests is None else "plain"
    tried_out = _try(study, case, ())
    readings, leaks = (isinstance(one, Proven) for one in (tried_out.readings, tried_out.leaks))
    if rests is not None and leaks and not readings:
        case = "firm"
        tried_out = _try(study, case, ())
    known: Part | None = None
    loose: tuple[int, ...] = ()
    content: tuple[int, ...] = ()
    while True:
        order = isinstance(tried_out.order, Proven)
        if loose and not isinstance(tried_out.loose, Proven):
            order = False
            break
        content = loose
        run = _simple(study, tried_out)
        failed = () if run is None else _failed(study, tried_out.racing, run)
        if run is not None:
            known = tried(study.circuit, run, failed, loose) or known
        more = _like(study.circuit, (*loose, *failed))
        if order or rests is None or not leaks or more == loose:
            break
        loose = more
        tried_out = _try(study, case, loose)
    order = order and leaks and (readings or case == "firm")
    proofs = [*tried_out.proofs, *([rests] if rests is not None else [])] if order else []
    distinct = tuple(dict.fromkeys(proofs))
    return _Shown(readings, leaks, order, loose if order else (), content, distinct, known)


def _try(study: Study, case: Case, loose: tuple[int, ...]) -> _Try:
    racing = racing_of(study.compiled, case, loose)
    study.racing.append((racing.system, (case, loose)))
    decode = functools.partial(run_of, study.compiled)
    inquiry = study.inquiry.within(share(study, PROOF))
    readings, leaks, order, *others = inquiry.settle(racing.system, racing.goals, decode)
    return _Try(racing, readings, leaks, order, others[0] if others else None)


def _simple(study: Study, tried_out: _Try) -> Run | None:
    """A run to where *order* fails, in which little happens: what fails then is more likely to make
    a difference in the end."""
    answer = tried_out.order
    if not isinstance(answer, Found) or not answer.run.steps:
        return None
    decode = functools.partial(run_of, study.compiled)
    inquiry = study.inquiry.within(share(study, SIMPLEST))
    racing = tried_out.racing
    return inquiry.simplified(racing.system, racing.order, answer, decode).run


def _failed(study: Study, racing: Racing, run: Run) -> tuple[int, ...]:
    """The elements for which *order* fails in the last step of a run."""
    compiled, system = study.compiled, study.compiled.system
    before, step = run.states[-2], run.steps[-1]
    rows = zip(system.latches, encode(compiled, before), strict=True)
    values = {latch.node: bit for latch, bit in rows}
    chosen = zip(system.choices, choices_of(compiled, before, step), strict=True)
    values.update({choice.node: bit for choice, bit in chosen})
    failed = racing.system.graph.evaluate(racing.spoilt, values)
    return tuple(e for e, fails in enumerate(failed) if fails)


def _like(circuit: Circuit, elements: tuple[int, ...]) -> tuple[int, ...]:
    """All elements of two positions in parts of the same kinds."""
    kinds = {_kind(circuit, element) for element in elements}
    return tuple(
        e
        for e, element in enumerate(circuit.elements)
        if _kind(circuit, e) in kinds and len(element.positions) == 2
    )


def _kind(circuit: Circuit, element: int) -> tuple[str, str]:
    thing = circuit.elements[element]
    return circuit.parts[thing.part].kind, thing.label


def _parts(study: Study, shown: _Shown) -> tuple[list[Part], int]:
    """Elements that orders part, in no race that the design accepts, and up to how many steps no
    others were found. Only loose elements can be, where everything else is proved."""
    every = range(len(study.circuit.elements))
    parts: dict[int, Part] = {}
    depths = []
    known = shown.known
    if not shown.order or shown.loose:
        found = search(study, shown.loose or every, firm=True)
        parts.update((one.element, one) for one in found.parts)
        depths.append(found.depth)
        fresh = known is not None and known.element not in parts
        if known is not None and fresh and known.accepted(study.circuit) is None:
            parts[known.element] = shortened(study, known)
    if not (shown.readings and shown.leaks):
        found = search(study, [e for e in every if e not in parts], firm=False)
        parts.update((one.element, one) for one in found.parts)
        depths.append(found.depth)
    return _ranked(shown, parts.values()), min(depths, default=-1)


def _accepted(study: Study, shown: _Shown) -> list[Part]:
    """Elements that orders part in the races that the design accepts, those of each together."""
    found: list[Part] = []
    for one in study.circuit.accepted:
        among = [
            e for e in one.elements if not shown.order or not shown.readings or e in shown.loose
        ]
        parts = list(search(study, among, firm=True, within=one).parts)
        if not (shown.readings and shown.leaks):
            left = [e for e in among if e not in {known.element for known in parts}]
            parts += search(study, left, firm=False, within=one).parts
        found += _ranked(shown, parts)
    return found


def _ranked(shown: _Shown, parts: Iterable[Part]) -> list[Part]:
    return sorted(parts, key=lambda p: (p.element in shown.content, not p.firm, p.steps, p.element))


def _outright(study: Study, *, but_accepted: bool) -> Proven | Part | None:
    """A proof over all pairs of orders, or a pair after all; None if the budget does not last.
    but_accepted: pairs in races that the design accepts are left out."""
    ways = twofold(study.compiled, firm=False)
    if len(ways.system.graph.fanins) > MOST_NODES:
        return None
    claimed: list[Reached] = []

    def decode(reached: Reached) -> Run:
        claimed.append(reached)
        return runs_of(ways, reached)[0]

    study.racing.append((ways.system, None))
    inquiry = study.inquiry.within(share(study, SEARCH))
    asked = ways.others if but_accepted else ways.whole
    (answer,) = inquiry.settle(ways.system, [asked], decode)
    if isinstance(answer, Proven):
        return answer
    if isinstance(answer, Found):
        (reached,) = claimed
        first, second = (run.states[-1] for run in runs_of(ways, reached))
        pairs = enumerate(zip(first.positions, second.positions, strict=True))
        apart = [e for e, (a, b) in pairs if a != b]
        new = [e for e in apart if accepted(study.circuit, first, e) is None]
        return part_of(ways, (new or apart)[0], reached, firm=False)
    return None


def _why(study: Study) -> str:
    if study.circuit.runs_on:
        return "the design runs on by intention, so there may be no end to compare"
    if study.rests is None:
        return "it is not proved that the design comes to rest"
    budget = share(study, SEARCH)
    return f"used up its budget of {budget.conflicts} conflicts or {budget.depth} steps"


def _delay_dependent(
    study: Study, shown: _Shown, parts: list[Part], proofs: Sequence[Proven], others: Others
) -> PropertyResult:
    """The first is told, or every one; all are replayed."""
    circuit = study.circuit
    instances = []
    for number, one in enumerate(parts):
        tells = number == 0 or study.every_case
        best = simplified(study, one) if tells else one
        if tells and best.firm:
            clear = decided(circuit, best.parting, best.element)
            best = structs.replace(best, parting=clear)
        believe_parting(circuit, best.parting, best.element)
        study.partings.append((best.parting, best.element))
        race = tell_parting(circuit, best.parting, shortest=best.shortest) if tells else None
        name = element_name(circuit, one.element)
        why = accepted_because(circuit, best.parting, best.element)
        words = f"where {name} stops"
        instances.append(InstanceResult(name, "delay dependent", words, race=race, accepted=why))
    result = _told(circuit, instances, proofs)
    known = (shown.loose, shown.readings) if shown.order else None
    return structs.replace(
        result,
        reason=beyond(circuit, known),
        others=others,
        unmet=unmet(circuit, instances),
    )


def _no_race(circuit: Circuit, proofs: Sequence[Proven]) -> PropertyResult:
    return _told(circuit, [InstanceResult("", "holds", NAME)], proofs)


def _told(
    circuit: Circuit, instances: Sequence[InstanceResult], proofs: Sequence[Proven] = ()
) -> PropertyResult:
    result = free_result(circuit, NAME, instances[0], proofs)
    return structs.replace(result, instances=tuple(instances), unmet=unmet(circuit, ()))
