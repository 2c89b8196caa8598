"""*comes to rest* as it is told: a loop is shown once round, a design may run on by intention."""

from __future__ import annotations

from pathlib import Path

from verifier import load, load_text, prove
from verifier.report.text import design_text

ROOT = Path(__file__).resolve().parents[2]
RING = ROOT / "tests" / "outside" / "designs" / "ring.ilk"
CASCADE = ROOT / "tests" / "outside" / "designs" / "cascade.ilk"


def test_a_ring_of_three_inverters_is_shown_going_round() -> None:
    """An odd ring of inverters has no resting state while it is enabled (textbook)."""
    result = prove(load(RING), names=["comes to rest"])
    (rest,) = result.properties
    (instance,) = rest.instances
    assert rest.verdict == "violated"
    assert instance.story is not None
    assert not instance.story.end.at_rest
    assert instance.story.loop_from == 1
    assert instance.story.outcome.endswith("What would end it: enable is off.")
    text = design_text(result)
    assert "From here on it goes round, hands and surroundings standing still:\n" in text
    assert "... and again from step 2, and so on for ever.\n" in text
    assert [event.by for event in instance.story.events].count("surroundings") == 1
    assert "steady reading" in rest.modelling


def test_what_runs_on_by_intention_is_not_asked_to_rest() -> None:
    result = prove(load(CASCADE))
    assert "comes to rest" not in [item.name for item in result.properties]
    assert any("runs on" in note for note in result.notes)


def test_an_ordinary_circuit_is_proved_to_rest() -> None:
    text = (
        "design lamp\nuse standard\nsupply tractor\npart button : push_button_3_2\n"
        "part lamp : visual_indicator\nline air : tractor, button.1\n"
        "line shown : button.2, lamp.in\n"
    )
    result = prove(load_text(text), names=["comes to rest"])
    (rest,) = result.properties
    assert rest.verdict == "holds"
    assert rest.proof is not None
    assert rest.proof.obligations > 0
