"""Every kind of the catalogue has the faults that its component table asks for.

ISO 13849-2:2012 tables B.3 to B.9, B.13 and B.14, from memory; hands from common practice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from verifier.diagnostics.limits import Limits
from verifier.shipped import grammar_folder
from verifier.syntax import tree
from verifier.syntax.parse import parse

TEXT = (grammar_folder() / "standard.ilk").read_text(encoding="utf-8")
KINDS = {
    item.name: item
    for item in parse(TEXT, "standard.ilk", Limits()).statements
    if isinstance(item, tree.Kind)
}


class Parts:
    """What a kind has, and what its faults do."""

    def __init__(self, kind: tree.Kind) -> None:
        items = kind.items
        self.elements = [one for one in items if isinstance(one, tree.ElementItem)]
        self.hands = [one.name for one in items if isinstance(one, tree.HandItem)]
        self.exhausts = [n for one in items if isinstance(one, tree.Exhausts) for n in one.names]
        self.ports = [
            name
            for one in items
            if isinstance(one, tree.Ports) and one.medium is None
            for name in one.names
        ]
        self.faults = [one for one in items if isinstance(one, tree.FaultItem)]
        self.effects = [effect for fault in self.faults for effect in fault.effects]
        passages = (one for one in items if isinstance(one, tree.PassageItem))
        ways = (p for e in self.elements for p in e.items if isinstance(p, tree.Passes))
        self.legs = [leg for one in (*passages, *ways) for leg in one.legs]

    def has(self, *effects: str, of: str | None = None) -> bool:
        """Some fault has one of these effects, on that element, hand or port."""
        return any(
            effect.effect in effects and (of is None or of in (effect.subject, *effect.ports))
            for effect in self.effects
        )

    def springs(self) -> Iterator[str]:
        for element in self.elements:
            if any(isinstance(one, tree.Otherwise) and one.target for one in element.items):
                yield element.name


# A part without air that people move: that it stays, or does not, is all that can be wrong with it.
MOVED_BY_PEOPLE = {
    *("hose_adapter", "vapour_adapter", "outlet_cap", "cabinet_door", "brake_lever"),
    *("hand_outlet_valve", "self_closing_hand_valve"),
}
# What the reason says is why the fault is not on the list.
WITHOUT: dict[str, dict[str, str]] = {
    "moves unbidden": {
        "fusible_plug": "its fault is to melt early",
        "outlet_cap": "its fault is to be missing",
        "cabinet_door": "its faults are that it cannot be shut, or opened",
        "brake_lever": "its faults are stuck on and stuck off",
        "regulator": "its faults are those of its setting",
        "regulator_with_return": "its faults are those of its setting",
    },
    "sticks": {
        "outlet_cap": "its fault is that it cannot be fitted",
        "regulator": "its faults are those of its setting",
        "regulator_with_return": "its faults are those of its setting",
    },
    "spring": {
        "regulator": "the spring is its setting",
        "overfill_sensor": "its weight takes the float down",
        "outlet_cap": "it has no spring: the hand that takes it off lets go",
    },
}


def lacking(what: str, test: Callable[[Parts], bool]) -> list[str]:
    """Kinds that fail the test and are not said to be without."""
    without = WITHOUT.get(what, {})
    return [n for n, kind in KINDS.items() if n not in without and not test(Parts(kind))]


def test_what_moves_may_stick() -> None:
    assert not lacking(
        "sticks", lambda kind: all(kind.has("sticks", "shifts", of=e.name) for e in kind.elements)
    )


def test_what_moves_may_move_unbidden() -> None:
    assert not lacking(
        "moves unbidden",
        lambda kind: all(kind.has("shifts", of=e.name) for e in kind.elements),
    )


def test_springs_break() -> None:
    found = lacking(
        "spring", lambda kind: all(kind.has("no_spring", of=name) for name in kind.springs())
    )
    assert [name for name in found if name not in MOVED_BY_PEOPLE] == []


@pytest.mark.parametrize("name", [n for n in KINDS if Parts(KINDS[n]).exhausts])
def test_exhausts_are_blocked(name: str) -> None:
    kind = Parts(KINDS[name])
    assert [port for port in kind.exhausts if not kind.has("blocks", of=port)] == []


@pytest.mark.parametrize("name", [n for n in KINDS if Parts(KINDS[n]).hands])
def test_hands_are_tied_or_dead_or_what_they_move_is_stuck(name: str) -> None:
    kind = Parts(KINDS[name])
    for hand in kind.hands:
        assert kind.has("held", "dead", of=hand) or (name in MOVED_BY_PEOPLE and kind.has("sticks"))


@pytest.mark.parametrize("name", [n for n in KINDS if Parts(KINDS[n]).ports])
def test_air_gets_out_by_some_fault(name: str) -> None:
    """Of every port that a tube's faults would not speak of, or that only a pilot has."""
    kind = Parts(KINDS[name])
    through = {end for leg in kind.legs for end in (leg.start, leg.end)}
    pilots = [port for port in kind.ports if port not in through]
    assert [port for port in pilots if not kind.has("vents", "bursts", of=port)] == []
    assert kind.has("vents", "bursts", "blocks")


def test_directional_valves_leak_along_their_paths_and_stop_half_way() -> None:
    for name, item in KINDS.items():
        kind = Parts(item)
        if "1" in kind.ports and "3" in kind.exhausts:
            paths = {frozenset((leg.start, leg.end)) for leg in kind.legs}
            leaks = {frozenset(one.ports) for one in kind.effects if one.effect == "leaks"}
            assert paths <= leaks, name
            labels = {fault.name for fault in kind.faults}
            assert {"stuck", "stuck_between_shut", "stuck_between_open"} <= labels, name


def test_a_shuttle_may_have_both_inlets_shut() -> None:
    for name in ("shuttle_valve", "two_pressure_valve"):
        fault = next(one for one in Parts(KINDS[name]).faults if one.name == "both_shut")
        assert {one.ports for one in fault.effects if one.effect == "blocks"} == {
            ("a", "out"),
            ("b", "out"),
        }


def test_every_fault_says_what_it_is_and_where_that_comes_from() -> None:
    for kind in KINDS.values():
        for fault in Parts(kind).faults:
            assert fault.doc, (kind.name, fault.name)
            assert fault.source, (kind.name, fault.name)
            assert fault.effects
