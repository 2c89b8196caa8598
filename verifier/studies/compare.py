"""The reviewer's study: what a change makes of a design, and what it makes of its safety."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from verifier.changes.circuits import compared
from verifier.changes.counterparts import Counterparts
from verifier.changes.reach import reach
from verifier.changes.statements import statements
from verifier.model.load import Loaded
from verifier.report.comparison import (
    ApartTold,
    BehaviourTold,
    Comparison,
    CoreTold,
    CutSetsTold,
    Outcome,
    RacesTold,
    SightTold,
    StatementTold,
    Trend,
    VerdictTold,
    Version,
)
from verifier.report.result import PropertyResult, Story, Verdict
from verifier.studies import rest
from verifier.studies.apart import Apart, behaviour
from verifier.studies.core_changes import core_changes
from verifier.studies.faults import FaultOptions, faults
from verifier.studies.inquiry import Inquiry
from verifier.studies.modelling import CAUTIONS
from verifier.studies.options import Options
from verifier.studies.prove import decide_all
from verifier.studies.race_changes import race_changes
from verifier.studies.watching import Nobody, Watcher, watched
from verifier.studies.weighing import weigh

# The worst last: a verdict further on is a loss.
_WORSE: tuple[Verdict, ...] = ("holds", "delay dependent", "vacuous", "violated")


def compare(
    old: Loaded,
    new: Loaded,
    options: Options | None = None,
    watcher: Watcher | None = None,
    order: int | None = None,
) -> Comparison:
    """Both designs proved, and all that differs. order: of the cut sets that are compared, too.
    Raises as `prove` does."""
    options, watcher = options or Options(), watcher or Nobody()
    with watched(watcher):
        study_before, before = decide_all(old, options, (), watcher)
        study, after = decide_all(new, options, (), watcher)
        between, differences = compared(old.circuit, new.circuit)
        told = [
            StatementTold(
                one.statement.what,
                one.statement.name,
                one.statement.before,
                one.weight,
                one.loss,
                one.statement.why,
            )
            for one in weigh(new.circuit, statements(between))
        ]
        verdicts = tuple(_verdicts(told, before, after))
        cores: tuple[CoreTold, ...] = ()
        if options.cores:
            watcher.begins(new.circuit.name, "what the proofs of both rest on", 0, 0)
            sides = (study_before, before), (study, after)
            cores = tuple(core_changes(between, differences, _names(told), *sides))
        watcher.begins(new.circuit.name, "both designs side by side", 0, 0)
        behaves = _behaviour(between, before, after, study.inquiry)
        retest = reach(between, differences)
        races_told = race_changes(between, before, after)
    cut_sets = () if order is None else tuple(_cut_sets(between, old, new, told, order, watcher))
    outcome = _outcome(told, verdicts, behaves, cut_sets, races_told)
    return Comparison(
        old=_version(old),
        new=_version(new),
        outcome=outcome,
        differences=tuple(differences),
        statements=tuple(told),
        verdicts=verdicts,
        behaviour=behaves,
        retest=retest,
        refused=(),
        exit_status=1 if outcome == "worse" else 3 if outcome == "undecided" else 0,
        cautions=CAUTIONS,
        cut_sets=cut_sets,
        races=races_told,
        cores=cores,
    )


def _names(told: Sequence[StatementTold]) -> dict[str, str]:
    """Of properties of the new design that the old one had, the name there."""
    return {one.name: one.before for one in told if one.what == "property" and one.before}


def _version(loaded: Loaded) -> Version:
    circuit = loaded.circuit
    return Version(next(iter(loaded.texts), ""), circuit.name, circuit.title, circuit.revision)


# ---- verdicts
def _verdicts(
    told: Sequence[StatementTold],
    before: Sequence[PropertyResult],
    after: Sequence[PropertyResult],
) -> Iterator[VerdictTold]:
    """In the order of the new design, then those that are gone."""
    names = _names(told)
    # A stated property may have the name of one that comes free.
    olds = {(item.free, item.name): item for item in before}
    for item in after:
        name = item.name if item.free else names.get(item.name, "")
        was = olds.pop((item.free, name), None)
        trend = "new" if was is None else _trend(was.verdict, item.verdict)
        if was is None and item.verdict != "holds":
            trend = "undecided" if item.verdict == "inconclusive" else "worse"
        broken = trend == "worse"
        yield VerdictTold(
            item.name,
            item.form,
            None if was is None else was.verdict,
            item.verdict,
            trend,
            _reason(item),
            _story(item) if broken else None,
        )
    for item in olds.values():
        yield VerdictTold(item.name, item.form, item.verdict, None, "gone")


def _trend(before: Verdict, after: Verdict) -> Trend:
    if before == after:
        return "same"
    if after == "inconclusive":
        return "undecided"
    if before == "inconclusive":
        return "better" if after == "holds" else "worse"
    return "worse" if _WORSE.index(after) > _WORSE.index(before) else "better"


def _reason(item: PropertyResult) -> str:
    if item.verdict not in ("inconclusive", "vacuous"):
        return ""
    reasons = (one.reason for one in item.instances if one.verdict == item.verdict)
    return item.reason or next(reasons, "")


def _story(item: PropertyResult) -> Story | None:
    return next((one.story for one in item.instances if one.story is not None), None)


# ---- cut sets
def _cut_sets(
    between: Counterparts,
    old: Loaded,
    new: Loaded,
    told: Sequence[StatementTold],
    order: int,
    watcher: Watcher,
) -> Iterator[CutSetsTold]:
    """Of the properties that both designs have and that faults are asked about."""
    names = _names(told)
    options = FaultOptions(order)
    before = {item.name: item for item in faults(old, options, (), watcher).properties}
    for item in faults(new, options, (), watcher).properties:
        was = before.get(names.get(item.name, ""))
        if was is None or was.why_not or item.why_not:
            continue
        then = {
            tuple(sorted(between.fault(fault) for fault in one.faults)): None
            for one in was.cut_sets
        }
        now = {tuple(sorted(one.faults)): None for one in item.cut_sets}
        yield CutSetsTold(
            item.name,
            was.tolerated,
            item.tolerated,
            tuple(one for one in now if one not in then),
            tuple(one for one in then if one not in now),
            min(was.complete_to, item.complete_to) >= order,
        )


# ---- behaviour
def _behaviour(
    between: Counterparts,
    before: Sequence[PropertyResult],
    after: Sequence[PropertyResult],
    inquiry: Inquiry,
) -> BehaviourTold:
    found = behaviour(between, inquiry)
    answer, reason = found.answer, ""
    restless = [
        which
        for which, results in (("old", before), ("new", after))
        if not any(x.free and x.name == rest.NAME and x.verdict == "holds" for x in results)
    ]
    if answer == "same" and restless:
        # Where one of them never rests, nothing was compared.
        answer = "open"
        reason = f"it is not proved that the {' and the '.join(restless)} design comes to rest"
    elif answer == "open" and found.apart is not None:
        reason = "each design can also show what the other does, if things move in another order"
    elif answer == "open":
        reasons = (sight.reason for sight in found.sights if sight.answer == "open")
        reason = found.reason or next(reasons)
    return BehaviourTold(
        answer,
        tuple(SightTold(one.name, one.answer, one.steps, one.reason) for one in found.sights),
        None if found.apart is None else _apart(found.apart),
        reason,
        found.left,
        found.unseen,
    )


def _apart(apart: Apart) -> ApartTold:
    return ApartTold(apart.shown, apart.old, apart.new, apart.only_new, apart.only_old)


def _outcome(
    told: Sequence[StatementTold],
    verdicts: Sequence[VerdictTold],
    behaves: BehaviourTold,
    cut_sets: Sequence[CutSetsTold],
    races: RacesTold | None,
) -> Outcome:
    if any(one.loss for one in told) or any(one.trend in ("worse", "gone") for one in verdicts):
        return "worse"
    if any(one.complete and one.tolerated < one.tolerated_before for one in cut_sets):
        return "worse"
    new_races = races is not None and bool(races.unaccepted)
    if races is not None and new_races and races.known_before:
        return "worse"
    if (
        new_races
        or any(one.trend == "undecided" for one in verdicts)
        or not all(x.complete for x in cut_sets)
    ):
        return "undecided"
    same = all(one.weight in ("same", "reworded") for one in told) and all(
        one.trend == "same" for one in verdicts
    )
    same = same and not any(one.gained or one.lost for one in cut_sets)
    same = same and not (races is not None and (races.gained or races.lost))
    if same and behaves.answer == "same" and not behaves.left and not behaves.unseen:
        return "plumbing only"
    return "no loss"
