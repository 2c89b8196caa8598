"""Wrong connections judged: explicit search agrees on each of them, with symmetry and without."""

from __future__ import annotations

import pytest

from verifier import load_text
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.wrong_connections import (
    wrong_connections,
    wrong_words,
    wrongly_connected,
)
from verifier.report.misconnections import Misconnections, rank
from verifier.runs.play import play
from verifier.runs.read import read_run
from verifier.simulation.explore import Exploration
from verifier.studies.misconnecting import misconnections

PAIR = """
design pair "a stop, and two selectors that are alike"
use standard
supply tractor
part stop: push_button_3_2_normally_open
part pick[1..2]: push_pull_3_2_spring
part foot[1..2]: foot_valve
line air: tractor, stop.1
line bank: stop.2, pick[1..2].1
line lift[i in 1..2]: pick[i].2, foot[i].pilot
never "open with the stop pressed": open(foot[i]) and pressed(stop) for any i in 1..2
never "open without its selector": open(foot[i]) and pick[i] is in for any i in 1..2
recovers "letting go shuts": after not pulled(pick[i]) then shut(foot[i]) for every i in 1..2
possible "each opens": open(foot[i]) for each i in 1..2
"""
SHUTTLE = """
design either "two feeds and a shuttle valve, between which nothing tells"
use standard
supply tractor
part lever[1..2]: lever_3_2
part either: shuttle_valve
part lamp: visual_indicator
line air: tractor, lever[1..2].1
line call[1]: lever[1].2, either.a
line call[2]: lever[2].2, either.b
line out: either.out, lamp.in
always "off is off": if lever[1] is off and lever[2] is off then not showing(lamp)
possible "on is shown": showing(lamp) and lever[1] is on and lever[2] is off
possible "the other is shown": showing(lamp) and lever[2] is on and lever[1] is off
"""


def truths(circuit: Circuit) -> list[bool]:
    """Whether each property holds, by visiting every state."""
    exploration = Exploration(circuit)
    assert exploration.complete
    return [
        all(exploration.answer(item, one).truth == "holds" for one in item.instances)
        for item in circuit.properties
    ]


def outcomes(told: Misconnections) -> dict[str, str]:
    return {member.words: one.judgement.outcome for one in told.told for member in one.members}


@pytest.mark.parametrize(("text", "every"), [(PAIR, 3), (SHUTTLE, 1)], ids=["pair", "shuttle"])
def test_explicit_search_agrees(text: str, every: int) -> None:
    """Of the larger one, on every third."""
    loaded = load_text(text)
    circuit = loaded.circuit
    assert all(truths(circuit))
    told = misconnections(loaded)
    assert not told.interrupted
    found = outcomes(told)
    expected = {}
    for wrong in wrong_connections(circuit)[::every]:
        kept = all(truths(wrongly_connected(circuit, wrong)))
        expected[wrong_words(circuit, wrong)] = "harmless" if kept else "broken"
    assert {words: found[words] for words in expected} == expected
    assert told.known == told.swaps + told.left_off == len(wrong_connections(circuit))
    assert "harmless" in found.values() or text == PAIR
    ranks = [rank(one.judgement) for one in told.told]
    assert ranks == sorted(ranks)


def test_members_of_a_family_are_judged_once() -> None:
    told = misconnections(load_text(PAIR))
    assert told.judged < told.known
    lift = next(one for one in told.told if "tube lift[1] left off" in one.words)
    assert lift.told == ("tube lift[1..2] left off",)


def test_what_is_shown_can_be_carried_out() -> None:
    """The runs of wrong connections, as written down, break what they say."""
    loaded = load_text(PAIR)
    told = misconnections(loaded)
    runs = [one.judgement.run for one in told.told if one.judgement.run]
    assert len(runs) > 3
    for text in runs:
        script = read_run(text)
        assert script.wrong is not None
        assert play(loaded.circuit, script).problems == ()


def test_one_part_alone() -> None:
    loaded = load_text(SHUTTLE)
    told = misconnections(loaded, parts=("either",))
    words = outcomes(told)
    assert words["either.a and either.b swapped"] == "harmless"
    assert words["tube out left off"] == "broken"
    assert not any("lever[1].1" in one for one in words)


def test_what_did_not_hold_before_is_said_and_not_looked_at() -> None:
    loaded = load_text(PAIR + 'never "shown to fail": open(foot[1])\n')
    told = misconnections(loaded, parts=("foot[2]",))
    assert told.not_held == ("shown to fail",)
    assert "shown to fail" not in told.held
    assert all(one.judgement.property != "shown to fail" for one in told.told)


def test_an_interrupt_leaves_what_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    from verifier.studies import misconnecting

    asked = []

    def stops(loaded: Loaded, *given: object) -> object:
        if len(asked) == 2:
            raise KeyboardInterrupt
        asked.append(given)
        return really(loaded, *given)  # type: ignore[arg-type]

    really = misconnecting.judged
    monkeypatch.setattr(misconnecting, "judged", stops)
    monkeypatch.setattr(misconnecting, "can_have_workers", lambda: False)
    told = misconnections(load_text(SHUTTLE))
    assert told.interrupted
    assert told.known == 2
