"""Faults that show and faults that sleep: designs judged by hand, and explicit search."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import product
from pathlib import Path

import pytest
from msgspec import structs

from verifier.engines.engine import Budget
from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.load import load
from verifier.model.run import State
from verifier.model.strikes import Strike, strikes
from verifier.model.weaving import Woven, weave
from verifier.simulation.explore import start
from verifier.simulation.movement import at_rest
from verifier.simulation.steps import kept, moved
from verifier.studies import sleeping
from verifier.studies.faults import FaultOptions, faults
from verifier.studies.signs import Sign, signs_of, value_of
from verifier.studies.sleeping import sleepers

KINDS = """
kind outlet "a valve that lets air out while it is turned"
  ports 1
  exhausts 3
  element spool: shut, open
    in open passes 1-3
    to open when worked
    otherwise to shut
  fault stuck "it stays where it is":
    spool stays
  fault blocked "its way out is blocked":
    blocks 3
  fault weeps "it leaks a little":
    leaks 1-3
end
kind knob "turned and left"
  hand turned can be held
  element arm: off, on
    to on when turned by hand
    otherwise to off
end
kind tap "lets air in while it is not worked"
  ports 1, 2
  element spool: open, shut
    in open passes 1-2
    to shut when worked
    otherwise to open
end
"""
# One knob shuts the air off and opens two ways out: one is enough.
TWICE = """design twice
use standard
supply air starts present
part stop : knob
part tap : tap worked by on(stop)
part one : outlet worked by on(stop)
part two : outlet worked by on(stop)
part lamp : visual_indicator
line fed : air, tap.1
line shown : tap.2, one.1, two.1, lamp.in
exclude faults tubes, supplies, all of lamp because "only ways out count" source "a guess"
always "off": if on(stop) then low(lamp.in)
"""
ONCE = TWICE.replace("part two : outlet worked by on(stop)\n", "").replace(" two.1,", "")
# Pushed and let go, a knob with a detent; its pilot is trapped behind a valve that may leak.
HAND = """design hand
use standard
supply air
part button : push_button_3_2
part foot : foot_valve
part lamp : visual_indicator
line fed : air, button.1
line lift : button.2, foot.pilot, lamp.in
place tank, hose
liquid tank - foot - hose
exclude faults tubes, supplies because "too many" source "a guess"
never "open": open(foot)
"""
# What the lamp shows at rest is anybody's guess: the air behind the valve may leak or not.
TRAPPED = """design trapped
use standard
supply air starts present
part shut_off : lever_2_2
part lamp : visual_indicator
line fed : air, shut_off.1
line kept : shut_off.2, lamp.in
exclude faults tubes, supplies, all of shut_off because "too many" source "a guess"
never "showing": showing(lamp)
"""


@pytest.fixture
def loaded(tmp_path: Path, request: pytest.FixtureRequest) -> Circuit:
    path = tmp_path / "design.ilk"
    path.write_text(request.param + KINDS)
    return load(path).circuit


@pytest.mark.parametrize("loaded", [TWICE], indirect=True)
def test_what_is_there_twice_sleeps(loaded: Circuit) -> None:
    """While one way out works, nobody sees that the other does not."""
    found = sleepers(loaded, strikes(loaded), Budget())
    assert found.open == ""
    assert found.obligations > 0
    assert {"one blocked", "two blocked"} <= set(found.asleep)
    assert {"one weeps", "two weeps"} <= set(found.asleep)


@pytest.mark.parametrize("loaded", [ONCE], indirect=True)
def test_what_is_there_once_shows(loaded: Circuit) -> None:
    found = sleepers(loaded, strikes(loaded), Budget())
    by = {one.name: one.by for one in found.seen}
    assert by["one blocked"] == ("lamp.flag",)
    assert by["one stuck"] != ()


def test_cut_sets_of_sleepers(tmp_path: Path) -> None:
    """Both ways out blocked: the first sleeps, so the second finds the set half done."""
    path = tmp_path / "design.ilk"
    path.write_text(TWICE + KINDS)
    found = faults(load(path), FaultOptions(order=2, sleeping=True))
    told = {frozenset((*one.asleep, *one.others)): one.asleep for one in found.sleeping_sets}
    assert told[frozenset({"one blocked", "two blocked"})] == ("one blocked", "two blocked")


@pytest.mark.parametrize("loaded", [TRAPPED], indirect=True)
def test_what_may_leak_is_no_sign(loaded: Circuit) -> None:
    found = sleepers(loaded, strikes(loaded), Budget())
    assert "lamp.flag" in found.unsteady
    assert [one.name for one in found.seen] == ["lamp bursts"]
    assert "lamp stuck" in found.asleep


@pytest.mark.parametrize("loaded", [ONCE, HAND, TRAPPED], indirect=True)
def test_explicit_search_agrees(loaded: Circuit) -> None:
    """Both copies, state by state with the simulator, for each fault by itself."""
    every = strikes(loaded)
    found = sleepers(loaded, every, Budget())
    plain = searched(loaded, ())
    assert set(found.unsteady) == plain
    for strike in every:
        shows = searched(loaded, (strike,)) - plain
        assert (strike.name in {one.name for one in found.seen}) == bool(shows), strike.name
        assert (strike.name in found.asleep) == (not shows)
        for one in found.seen:
            if one.name == strike.name:
                assert set(one.by) <= shows


def searched(circuit: Circuit, chosen: tuple[Strike, ...]) -> set[str]:
    """Names of the signs that can differ while both copies are at rest."""
    hands = tuple(structs.replace(hand, held=True) for hand in circuit.hands)
    woven = weave(structs.replace(circuit, hands=hands, properties=()), chosen)
    signs = signs_of(woven.circuit)
    first = start(woven.circuit)
    known = {(first, first)}
    waiting = [(first, first)]
    differing: set[str] = set()

    @cache
    def rests(state: State) -> bool:
        return at_rest(woven.circuit, state)

    @cache
    def shown(state: State) -> tuple[tuple[int, ...], ...]:
        return tuple(value_of(woven.circuit, state, sign) for sign in signs)

    @cache
    def onward(state: State, worked: Worked, sound: bool) -> tuple[State, ...]:
        return tuple(after(woven, state, worked, sound))

    while waiting:
        one, other = waiting.pop()
        rest = rests(one) and rests(other)
        if rest:
            pairs = zip(signs, shown(one), shown(other), strict=True)
            differing |= {sign.name for sign, a, b in pairs if a != b}
        for worked in touches(woven.circuit, one, rest):
            for pair in product(onward(one, worked, False), onward(other, worked, True)):
                if pair not in known:
                    known.add(pair)
                    waiting.append(pair)
    return differing


Worked = tuple[tuple[bool, ...], tuple[int, ...]]
"""Hands and settings."""


def touches(circuit: Circuit, state: State, rest: bool) -> Iterator[Worked]:
    yield state.hands, state.settings
    if not rest:
        return
    for k, hand in enumerate(state.hands):
        yield (*state.hands[:k], not hand, *state.hands[k + 1 :]), state.settings
    for k, switch in enumerate(circuit.switches):
        for value in range(len(switch.values)):
            if value != state.settings[k]:
                settings = (*state.settings[:k], value, *state.settings[k + 1 :])
                yield state.hands, settings


def after(woven: Woven, state: State, worked: Worked, sound: bool) -> Iterator[State]:
    hands, settings = worked
    for positions in moved(woven.circuit, state, ()):
        if sound and any(positions[e] for e in woven.elements):
            continue
        for memory in kept(woven.circuit, state, positions, settings):
            yield State(positions, hands, settings, memory)


@pytest.mark.parametrize("loaded", [ONCE], indirect=True)
def test_a_sign_read_wrongly_is_noticed(loaded: Circuit, monkeypatch: pytest.MonkeyPatch) -> None:
    """The simulator has to agree that both copies show different things."""

    def blind(circuit: Circuit, state: State, sign: Sign) -> tuple[int, ...]:
        return ()

    monkeypatch.setattr(sleeping, "value_of", blind)
    with pytest.raises(EvidenceError, match="show the same"):
        sleepers(loaded, strikes(loaded), Budget())


@pytest.mark.parametrize("loaded", [ONCE], indirect=True)
def test_too_little_work_leaves_it_open(loaded: Circuit) -> None:
    found = sleepers(loaded, strikes(loaded), Budget(conflicts=1))
    assert (found.asleep, found.unsteady) == ((), ())
    assert "budget" in found.open
