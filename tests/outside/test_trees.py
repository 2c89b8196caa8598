"""Published fault trees rebuilt as circuits: the same minimal cut sets come out of the search, and
the numbers that were published out of those."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.outside.search import cut_sets
from tests.risk.published import (
    BRIDGE,
    NE574,
    PRESSURE_TANK,
    THEATRE,
    THREE_MOTOR,
    TWO_OF_THREE,
    TWO_TRAIN,
    Published,
)
from tests.risk.test_published_trees import as_published
from verifier.diagnostics.limits import Limits
from verifier.model.load import load
from verifier.risk.chance import weigh
from verifier.syntax.layout import layout
from verifier.syntax.parse import parse

DESIGNS = Path(__file__).with_name("trees")
PHYSICAL = (THEATRE, TWO_TRAIN, TWO_OF_THREE, BRIDGE, PRESSURE_TANK)
NAMES = [one.name for one in PHYSICAL]


def expected(one: Published) -> set[frozenset[str]]:
    return {frozenset(text.split()) for text in one.sets}


@pytest.mark.parametrize("one", PHYSICAL, ids=NAMES)
def test_a_circuit_of_the_same_structure(one: Published) -> None:
    circuit = load(DESIGNS / f"{one.name.replace(' ', '_')}.ilk").circuit
    found = cut_sets(circuit, 0, max(one.sizes) + 1)
    parts = {frozenset(event_of(fault) for fault in faults) for faults in found}
    assert parts == expected(one)
    chance = weigh(parts, one.probability).chance
    assert one.exact is not None
    assert as_published(chance.exact, one.exact)


def event_of(fault: str) -> str:
    """`P[1] fails` is event P1 of the tree."""
    return re.sub(r"[\[\]]", "", fault.split()[0])


def relays(one: Published) -> str:
    """The tree as contacts: an event is a contact that closes when it fails."""
    lines = ["design relays", "kind contact", "  element arm: open, closed", "    otherwise stays"]
    lines += ["  fault fails:", "    arm may go to closed", "end"]
    lines += [f"part {event} : contact" for event in one.probability]
    formula = re.sub(r"[A-Z]\w*", r"closed(\g<0>)", one.gates["top"])
    return "\n".join([*lines, f'never "top": {formula.replace("&", "and").replace("|", "or")}', ""])


@pytest.mark.parametrize("one", [NE574, THREE_MOTOR], ids=["NE574", "three motor"])
def test_a_tree_of_contacts(one: Published, tmp_path: Path) -> None:
    path = tmp_path / "relays.ilk"
    path.write_text(relays(one))
    found = cut_sets(load(path, Limits()).circuit, 0, max(one.sizes) + 1)
    assert {frozenset(event_of(fault) for fault in faults) for faults in found} == expected(one)


@pytest.mark.parametrize("path", sorted(DESIGNS.glob("*.ilk")), ids=lambda path: path.stem)
def test_canonical_layout(path: Path) -> None:
    text = path.read_text()
    assert layout(parse(text, path.name, Limits())) == text
