"""A circuit with any single reference broken is told; an elaborated one never is."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

from verifier.model.circuit import Circuit, Move, Where
from verifier.model.condition import AtRest, High, Setting
from verifier.model.load import load
from verifier.model.wellformed import check

SPECS = sorted((Path(__file__).parents[2] / "specs").glob("*/*.ilk"))
HERON = next(path for path in SPECS if path.stem == "heron")
CIRCUIT = load(HERON).circuit


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_library_designs_are_well_formed_and_free_of_warnings(path: Path) -> None:
    loaded = load(path)
    check(loaded.circuit)
    assert loaded.warnings == ()


def first(circuit: Circuit, field: str, **changes: object) -> Circuit:
    """The circuit with its first thing of a sort changed."""
    things = getattr(circuit, field)
    return replace(circuit, **{field: (replace(things[0], **changes), *things[1:])})


ELEMENT = CIRCUIT.elements[0]
SPAN = ELEMENT.span
BROKEN = {
    "two ports of one name": first(CIRCUIT, "ports", name=CIRCUIT.ports[1].name),
    "a port elsewhere": first(CIRCUIT, "ports", volume=CIRCUIT.ports[0].volume + 1),
    "a port of another part": first(CIRCUIT, "ports", part=1),
    "a volume without end": first(CIRCUIT, "volumes", ports=(999,)),
    "a line of another volume": first(CIRCUIT, "lines", volume=1),
    "a tube of another line": first(CIRCUIT, "tubes", line=1),
    "a start beyond": first(CIRCUIT, "elements", start=9),
    "an otherwise beyond": first(CIRCUIT, "elements", otherwise=-1),
    "a move beyond": first(CIRCUIT, "elements", moves=(Move(7, High(0, "a"), SPAN),)),
    "a move at rest": first(CIRCUIT, "elements", moves=(Move(0, AtRest(), SPAN),)),
    "a move of no volume": first(CIRCUIT, "elements", moves=(Move(0, High(999, "a"), SPAN),)),
    "a move of no value": first(CIRCUIT, "elements", moves=(Move(0, Setting(0, (5,)), SPAN),)),
    "a passage of nobody": first(CIRCUIT, "passages", part=99),
    "a passage to elsewhere": first(CIRCUIT, "passages", end=0, start=0),
    "a choice of nothing": first(CIRCUIT, "passages", where=(Where(0, ()),)),
    "a switch without values": first(CIRCUIT, "switches", values=()),
    "a supply without a switch": first(CIRCUIT, "supplies", switch=99),
    "an unpiped line": first(CIRCUIT, "ports", state="plugged"),
    "a property of nothing": first(CIRCUIT, "properties", instances=()),
    "a fault of nobody": first(CIRCUIT, "faults", part=99),
    "a place twice": first(CIRCUIT, "networks", places=CIRCUIT.networks[0].places[:1] * 99),
    "an owner who does not know": first(CIRCUIT, "parts", elements=()),
}


@pytest.mark.parametrize("name", BROKEN)
def test_broken_circuits_are_told(name: str) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        check(BROKEN[name])


def test_one_reader_reads_one_volume() -> None:
    moves = (Move(0, High(0, "a"), SPAN), Move(0, High(1, "a"), SPAN))
    with pytest.raises(ValueError, match="reads two volumes"):
        check(first(CIRCUIT, "elements", moves=moves))


def test_momentary_hands_are_for_moves_and_procedures() -> None:
    from verifier.model.condition import Hand

    momentary = next(n for n, hand in enumerate(CIRCUIT.hands) if not hand.held)
    prop = CIRCUIT.properties[0]
    instance = replace(prop.instances[0], condition=Hand(momentary))
    broken = first(CIRCUIT, "properties", instances=(instance,))
    with pytest.raises(ValueError, match="momentary"):
        check(broken)
