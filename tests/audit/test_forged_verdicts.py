"""Folders that are forged well: every digest is right, and everything follows from what was
changed. What is not true has to give them away, at the step that should see it."""

from __future__ import annotations

from pathlib import Path
from types import FunctionType

import msgspec
import pytest
from folders import DESIGNS, audited, sealed
from forger import AIR, FLAW, NEVER, Forger, judged, named

from verifier.report.bundle import MANIFEST
from verifier.report.manifest import Shown
from verifier.studies.modelling import all_in_force


@pytest.mark.parametrize("name", sorted(DESIGNS))
def test_the_forger_leaves_no_loose_end(name: str) -> None:
    forger = Forger(name)
    before = dict(forger.files)
    assert forger.finished() == before


# Verdicts


@pytest.mark.parametrize(
    ("name", "verdict"),
    [
        (FLAW, "holds"),
        (FLAW, "vacuous"),
        (FLAW, "delay dependent"),
        (AIR, "violated"),
        (AIR, "vacuous"),
        (NEVER, "holds"),
        (NEVER, "violated"),
        ("discharge", "violated"),
        ("discharge with the stop in", "holds"),
        ("discharge with the stop in", "vacuous"),
        ("the stop shuts whatever came before", "violated"),
        ("the stop shuts whatever came before", "vacuous"),
        ("no contest", "violated"),
        ("comes to rest", "violated"),
        ("no race", "violated"),
        ("no race", "delay dependent"),
    ],
)
def test_another_verdict(name: str, verdict: str, tmp_path: Path) -> None:
    forger = Forger("mixed")
    forger.tell_case(name, verdict=verdict, story=None, reason="")
    step, words = judged(forger.finished(), tmp_path)
    assert step == "verdicts"
    assert name in words
    assert f"nothing carries the verdict '{verdict}'" in words or "the cases" in words


@pytest.mark.parametrize("name", ["comes to rest", "no race"])
def test_what_goes_round_does_not_come_to_rest(name: str, tmp_path: Path) -> None:
    forger = Forger("latch")
    others = [one for one in forger.manifest.properties if one.name == "no contest"]
    case = forger.item(name).instances[0]
    case = msgspec.structs.replace(
        case, label="", verdict="holds", words=name, story=None, race=None
    )
    forger.tell(name, instances=(case,), verdict="holds", reason="")
    forger.carry(name, proofs=others[0].cases[0].proofs)
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "nothing carries the verdict 'holds'" in words) == ("verdicts", True)


def test_a_race_that_is_not_accepted(tmp_path: Path) -> None:
    forger = Forger("races")
    case = forger.item("no race").instances[0]
    assert case.accepted == ""
    forger.tell_case("no race", accepted="one sees the lamp")
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "nothing carries the verdict" in words) == ("verdicts", True)


def test_an_accepted_race_for_another_reason(tmp_path: Path) -> None:
    forger = Forger("accepted")
    forger.tell_case("no race", accepted="nobody minds")
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "nothing carries the verdict" in words) == ("verdicts", True)


def test_races_that_are_not_accepted_are_left_out(tmp_path: Path) -> None:
    forger = Forger("races")
    item = forger.item("no race")
    kept = [k for k, one in enumerate(item.instances) if one.accepted]
    assert 0 < len(kept) < len(item.instances)
    carrying = next(one for one in forger.manifest.properties if one.name == "no race")
    proofs = carrying.cases[0].proofs
    for place, k in enumerate(kept):
        case = carrying.cases[k]
        forger.carry("no race", place, sequences=case.sequences, proofs=proofs if not place else ())
    told = tuple(item.instances[k] for k in kept)
    forger.tell("no race", instances=told, others="none")
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "that no other race is there is not proved" in words) == ("verdicts", True)
    forger.tell("no race", others="")
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "that no other race is there is not proved" in words) == ("verdicts", True)
    forger.tell("no race", others="open")
    assert judged(forger.finished(), tmp_path) == ("", "")


def test_that_there_are_no_other_races_without_its_proof(tmp_path: Path) -> None:
    forger = Forger("accepted")
    assert forger.item("no race").others == "none"
    forger.carry("no race", proofs=())
    forger.tell("no race", reason="")
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "that no other race is there is not proved" in words) == ("verdicts", True)


def test_an_accepted_race_that_is_not_there_is_kept_quiet(tmp_path: Path) -> None:
    forger = Forger("accepted")
    assert forger.item("no race").unmet == ("race of lamp",)
    forger.tell("no race", unmet=())
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "races not found" in words) == ("verdicts", True)


def test_a_verdict_on_the_whole_that_is_better_than_its_worst(tmp_path: Path) -> None:
    forger = Forger("mixed")
    files = forger.finished()
    forged = sealed({**files, MANIFEST: files[MANIFEST]}, verdict="holds")
    assert judged(forged, tmp_path)[0] == "verdicts"


def test_a_verdict_of_the_manifest_alone(tmp_path: Path) -> None:
    forger = Forger("mixed")
    files = forger.finished()
    properties = tuple(
        msgspec.structs.replace(one, verdict="holds") for one in forger.manifest.properties
    )
    assert judged(sealed(files, properties=properties), tmp_path)[0] in ("sequences", "verdicts")


def test_a_property_left_out_is_told(tmp_path: Path) -> None:
    """As after `--property`: nothing false is said, and the audit says what is not said."""
    forger = Forger("mixed")
    without = (FLAW, "comes to rest")
    forger.design = msgspec.structs.replace(
        forger.design,
        properties=tuple(one for one in forger.design.properties if one.name not in without),
    )
    forger.design = msgspec.structs.replace(
        forger.design, modelling=all_in_force(forger.design.properties)
    )
    forger.manifest = msgspec.structs.replace(
        forger.manifest,
        properties=tuple(one for one in forger.manifest.properties if one.name not in without),
    )
    outcomes = audited(forger.finished(), tmp_path)
    assert outcomes[-1].words.endswith(f"nothing is said of {', '.join(without)}")


def test_a_case_left_out(tmp_path: Path) -> None:
    forger = Forger("mixed")
    forger.tell(AIR, instances=())
    assert judged(forger.finished(), tmp_path)[0] == "verdicts"


# What is said beside the verdict


Told = FunctionType


def _other_words(forger: Forger) -> None:
    forger.tell_case(AIR, words="nothing ever goes wrong")


def _other_moment(forger: Forger) -> None:
    forger.tell(AIR, moment="at_rest")


def _assumption_hidden(forger: Forger) -> None:
    assert forger.item(AIR).assumptions
    forger.tell(AIR, assumptions=())


def _assumption_for_another_reason(forger: Forger) -> None:
    (one,) = forger.item(AIR).assumptions
    forger.tell(AIR, assumptions=(one, msgspec.structs.replace(one, reason="it is the law")))


def _modelling_hidden(forger: Forger) -> None:
    forger.tell(AIR, modelling=forger.item(AIR).modelling[1:])


def _modelling_reworded(forger: Forger) -> None:
    first, *others = forger.design.modelling
    first = msgspec.structs.replace(first, says="parts that fail are dealt with, too")
    forger.design = msgspec.structs.replace(forger.design, modelling=(first, *others))


def _note_added(forger: Forger) -> None:
    forger.design = msgspec.structs.replace(forger.design, notes=("inspected and released",))


def _reason_reworded(forger: Forger) -> None:
    forger.tell_case(NEVER, reason="This never happens, which is as it should be.")


def _reason_invented(forger: Forger) -> None:
    forger.tell_case(AIR, reason="It holds with faults, too.")


def _story_ends_well(forger: Forger) -> None:
    story = forger.item(FLAW).instances[0].story
    assert story is not None
    forger.tell_case(FLAW, story=msgspec.structs.replace(story, outcome="No harm is done."))


def _event_reworded(forger: Forger) -> None:
    story = forger.item(FLAW).instances[0].story
    assert story is not None
    first = msgspec.structs.replace(story.events[0], words="Somebody breaks a seal.")
    events = (first, *story.events[1:])
    forger.tell_case(FLAW, story=msgspec.structs.replace(story, events=events))


def _story_of_another_run(forger: Forger) -> None:
    """A harmless run, named beside the one that carries the verdict."""
    other = next(
        n
        for n in forger.sequences()
        if n not in {one.sequence for one in named(forger, FLAW)}
        and not forger.recorded(n).procedure_from
    )
    story = next(
        case.story
        for item in forger.design.properties
        for case in item.instances
        if case.story is not None and item.name != FLAW
    )
    steps = len(forger.recorded(other).steps)
    forger.carry(FLAW, sequences=(*named(forger, FLAW), Shown(other, steps)))
    forger.tell_case(FLAW, story=story)


def _warnings_hidden(forger: Forger) -> None:
    assert forger.design.warnings
    forger.design = msgspec.structs.replace(forger.design, warnings=())


def _witness_ends_otherwise(forger: Forger) -> None:
    *others, last = forger.item(AIR).instances[0].witnesses
    told = msgspec.structs.replace(last, outcome="This happens: all is well.")
    forger.tell_case(AIR, witnesses=(*others, told))


def _witness_of_something_else(forger: Forger) -> None:
    """A run that is in the folder and named, in which the trigger does not happen."""
    (other,) = forger.item("comes to rest").instances[0].witnesses
    forger.carry(AIR, sequences=(*named(forger, AIR), *named(forger, "comes to rest")))
    forger.tell_case(AIR, witnesses=(other,))


def _witness_too_many(forger: Forger) -> None:
    stories = forger.item(AIR).instances[0].witnesses
    forger.tell_case(AIR, witnesses=(*stories, stories[0]))


def _witness_of_what_does_not_hold(forger: Forger) -> None:
    story, *_ = forger.item(AIR).instances[0].witnesses
    forger.carry(NEVER, sequences=named(forger, AIR))
    forger.tell_case(NEVER, witnesses=(story,))


def _no_witness_for_a_reason_of_its_own(forger: Forger) -> None:
    forger.tell_case(AIR, witnesses=())
    forger.tell(AIR, no_witness="everybody knows that it happens")


def _renamed(forger: Forger) -> None:
    forger.design = msgspec.structs.replace(forger.design, revision="Z")
    forger.manifest = msgspec.structs.replace(forger.manifest, revision="Z")


@pytest.mark.parametrize(
    "told",
    [
        _other_words,
        _other_moment,
        _assumption_hidden,
        _assumption_for_another_reason,
        _modelling_hidden,
        _modelling_reworded,
        _note_added,
        _reason_reworded,
        _reason_invented,
        _story_ends_well,
        _event_reworded,
        _story_of_another_run,
        _witness_ends_otherwise,
        _witness_of_something_else,
        _witness_too_many,
        _witness_of_what_does_not_hold,
        _no_witness_for_a_reason_of_its_own,
        _renamed,
    ],
)
def test_what_is_told_is_what_is_shown(told: Told, tmp_path: Path) -> None:
    forger = Forger("mixed")
    told(forger)
    step, words = judged(forger.finished(), tmp_path)
    assert step == "verdicts"
    assert ("witness" in words) == ("witness" in told.__name__)


def test_hidden_warnings(tmp_path: Path) -> None:
    forger = Forger("ring")
    if not forger.design.warnings:
        forger = Forger("signals")
    _warnings_hidden(forger)
    assert judged(forger.finished(), tmp_path)[0] == "verdicts"


def test_a_note_that_the_design_runs_on_is_kept(tmp_path: Path) -> None:
    forger = Forger("runs on")
    assert forger.design.notes
    forger.design = msgspec.structs.replace(forger.design, notes=())
    assert judged(forger.finished(), tmp_path)[0] == "verdicts"
