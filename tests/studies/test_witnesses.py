"""Each property that holds comes with a run in which that happens of which it speaks (Q14)."""

from __future__ import annotations

from pathlib import Path

import pytest

from verifier import load, load_text, prove
from verifier.evidence.error import EvidenceError
from verifier.model.load import Loaded
from verifier.report.result import DesignResult, PropertyResult, Result, Story
from verifier.report.text import UNTOLD, closing_text, design_text
from verifier.simulation.explore import Exploration
from verifier.simulation.judging import triggered
from verifier.studies.options import Options
from verifier.studies.prove import prove_and_keep
from verifier.studies.witnesses import with_witnesses

ROOT = Path(__file__).resolve().parents[2]
FULMAR = ROOT / "specs" / "fulmar" / "fulmar.ilk"
HERON = ROOT / "specs" / "heron" / "heron.ilk"

DESIGN = """design dunlin "two hands in series"
use standard
supply tractor
part first : push_button_3_2
part second : push_button_3_2
part lamp : visual_indicator
line air : tractor, first.1
line between : first.2, second.1
line shown : second.2, lamp.in
never "shown with a hand off":
    showing(lamp) and not (pushed(first) and pushed(second))
always "the lamp tells of air": if high(shown) then showing(lamp)
always "air or none": high(shown) or low(shown)
recovers "let go": after pushed(first), not pushed(first) then hidden(lamp)
"""


def property_of(design: DesignResult, name: str) -> PropertyResult:
    (found,) = (item for item in design.properties if item.name == name)
    return found


def witnesses(design: DesignResult, name: str) -> tuple[Story, ...]:
    item = property_of(design, name)
    assert item.verdict == "holds"
    return item.instances[0].witnesses


def small() -> tuple[Loaded, DesignResult]:
    loaded = load_text(DESIGN)
    return loaded, prove(loaded)


def test_each_trigger_has_a_run_that_ends_as_the_property_says() -> None:
    _, design = small()
    shown, off = witnesses(design, "shown with a hand off")
    assert {one.name: one.value for one in shown.end.moved} == {
        "first": "pressed", "second": "pressed", "lamp": "showing", "tractor": "present",
    }  # fmt: skip
    assert "showing" in shown.outcome
    assert off.steps == 0
    (lit,) = witnesses(design, "the lamp tells of air")
    assert "shown" in lit.end.high
    assert all(event.cause for event in lit.events if event.by == "movement")


def test_an_order_is_witnessed_by_what_may_come_only_after() -> None:
    name = "vent before flow, vent until flow ends"
    (flows,) = witnesses(prove(load(FULMAR), names=[name]), name)
    assert "liquid can pass" in flows.outcome
    assert flows.steps >= 2


def test_a_procedure_is_carried_out() -> None:
    _, design = small()
    (over,) = witnesses(design, "let go")
    assert over.procedure_from is not None
    assert over.end.at_rest
    assert over.outcome.startswith("The procedure is over")


def test_what_has_no_trigger_says_so() -> None:
    _, design = small()
    assert property_of(design, "air or none").no_witness
    assert not property_of(design, "shown with a hand off").no_witness
    assert property_of(design, "no contest").no_witness
    assert property_of(design, "no race").no_witness
    (rests,) = witnesses(design, "comes to rest")
    assert rests.end.at_rest
    assert any(event.by == "movement" for event in rests.events)


def test_triggers_can_happen_by_explicit_search_too() -> None:
    """The exploration of every state meets them; as many witnesses as there are triggers."""
    loaded, design = small()
    states = Exploration(loaded.circuit).resting_states()
    item = loaded.circuit.properties[0]
    for trigger in item.instances[0].triggers:
        assert any(triggered(loaded.circuit, item, trigger, state) for state in states)
    assert len(witnesses(design, item.name)) == len(item.instances[0].triggers)


def test_every_case_has_one_when_all_are_asked_for() -> None:
    names = ["discharge with a vent shut"]
    (first, *others) = property_of(prove(load(HERON), names=names), names[0]).instances
    assert first.witnesses
    assert not any(one.witnesses for one in others)
    every = prove(load(HERON), Options(every_case=True), names)
    assert all(len(one.witnesses) == 2 for one in property_of(every, names[0]).instances)


def test_the_report_tells_them_when_asked_and_else_that_there_are_some() -> None:
    _, design = small()
    assert "This happens" not in design_text(design)
    text = design_text(design, witness=True)
    assert "witness:\n" in text
    assert "No witness: it speaks of every state" in text
    assert text.count("This happens:") == 3
    result = Result((design,), (), 0, ("Caution.",))
    assert UNTOLD in closing_text(result, witness=False)
    assert UNTOLD not in closing_text(result, witness=True)


def test_no_run_no_verdict() -> None:
    design, study = prove_and_keep(load_text(DESIGN))
    study.runs.clear()
    with pytest.raises(EvidenceError, match="no run"):
        with_witnesses(study, design)
