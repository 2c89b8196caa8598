"""What changed, told from the circuits: the library's broken variants, each one mistake away from
an approved design, and renamed designs, whose graphs networkx finds isomorphic."""

from __future__ import annotations

import re
from pathlib import Path

import networkx
import pytest

from verifier.changes.circuits import compared
from verifier.changes.matching import match
from verifier.model.circuit import Circuit
from verifier.model.load import load

ROOT = Path(__file__).resolve().parents[2]
APPROVED = sorted((ROOT / "specs").glob("*/*.ilk"))


def approved(name: str) -> Circuit:
    return load(ROOT / "specs" / name / f"{name}.ilk").circuit


def variant(name: str) -> Circuit:
    return load(ROOT / "tests" / "designs" / "violated" / f"{name}.ilk").circuit


def told(old: Circuit, new: Circuit) -> list[str]:
    return [one.words for one in compared(old, new)[1]]


@pytest.mark.parametrize("path", APPROVED, ids=lambda path: path.stem)
def test_a_design_does_not_differ_from_itself(path: Path) -> None:
    circuit = load(path).circuit
    assert told(circuit, circuit) == []


CHANGES = {
    "heron_lines_crossed": [
        "`foot[1].pilot` is on line `lift[2]`, and was on line `lift[1]`",
        "`foot[2].pilot` is on line `lift[1]`, and was on line `lift[2]`",
    ],
    "heron_bank_from_master": [
        f"`pick[{k}].1` is on line `rise`, and was on line `back`" for k in (1, 2, 3)
    ],
    "heron_knob_stays_out": [
        "`master` is a push_pull_5_2, and was a push_pull_5_2_held_by_air",
    ],
    "heron_lift_air_trapped": [
        "`check` (non_return_valve) is new",
        "`vent[3].out` is on line `down`, and was on line `back`",
        "line `down` is new, and joins `vent[3].out`, `check.in`",
    ],
    "fulmar_no_restrictor": [
        "`choke` (restrictor) is no longer there",
        "`fuse.in` is on line `air`, and was on line `guard`",
        "`station[1].1` is on line `air`, and was on line `guard`",
        "line `guard` is no longer there",
    ],
}


@pytest.mark.parametrize("name", CHANGES)
def test_the_change_behind_a_broken_variant(name: str) -> None:
    assert told(approved(name.partition("_")[0]), variant(name)) == CHANGES[name]


def renamed(path: Path, tmp_path: Path, names: dict[str, str]) -> Circuit:
    text = path.read_text(encoding="utf-8")
    for old, new in names.items():
        text = re.sub(rf"\b{old}\b(?=\[|\)|\.| is\b|,| *:)", new, text)
    there = tmp_path / path.name
    there.write_text(text, encoding="utf-8")
    return load(there).circuit


def test_renamed_parts_are_the_same_parts(tmp_path: Path) -> None:
    old = approved("heron")
    path = ROOT / "specs" / "heron" / "heron.ilk"
    new = renamed(path, tmp_path, {"pick": "tap", "vent": "relief", "lamp": "flag"})
    differences = compared(old, new)[1]
    assert {one.what for one in differences} == {"part renamed"}
    assert all(one.name_only for one in differences)
    assert "`pick[2]` is now called `tap[2]`" in [one.words for one in differences]
    parts = match(old, new).parts

    def graph(circuit: Circuit, numbers: dict[int, int]) -> networkx.Graph:
        joined: networkx.Graph = networkx.Graph()
        for port in circuit.ports:
            part = numbers[port.part]
            joined.add_node(("part", part), told=circuit.parts[port.part].kind)
            joined.add_node(("port", port.name), told=(part, port.label))
            joined.add_node(("volume", port.volume), told="volume")
            joined.add_edge(("part", part), ("port", port.name))
            joined.add_edge(("port", port.name), ("volume", port.volume))
        return joined

    first = graph(old, parts)
    last = graph(new, {b: b for b in parts.values()})
    assert networkx.vf2pp_is_isomorphic(first, last, node_label="told")


def test_names_that_cannot_be_told_apart_are_said_to_be_so(tmp_path: Path) -> None:
    """Both lamps hang on one line: which became which, nobody can tell."""
    text = """design lamps
use standard
supply tractor
part lamp[1..2] : visual_indicator
line air : tractor, lamp[1..2].in
possible "seen": showing(lamp[1])
"""
    one, two = tmp_path / "one.ilk", tmp_path / "two.ilk"
    one.write_text(text)
    two.write_text(text.replace("lamp[", "flag["))
    differences = compared(load(one).circuit, load(two).circuit)[1]
    assert [one.words for one in differences] == [
        "`lamp[1]` is now called `flag[1]` (it could as well be `flag[2]`)",
        "`lamp[2]` is now called `flag[2]`",
    ]
    assert not differences[0].name_only


def test_a_part_that_is_renamed_and_piped_anew(tmp_path: Path) -> None:
    path = ROOT / "specs" / "heron" / "heron.ilk"
    text = path.read_text(encoding="utf-8")
    text = text.replace("lamp", "flag").replace("vent[3].out, flag.in", "vent[3].out")
    text = text.replace("master.4, vent[1].in", "master.4, vent[1].in, flag.in")
    there = tmp_path / "heron.ilk"
    there.write_text(text, encoding="utf-8")
    words = told(approved("heron"), load(there).circuit)
    assert "`lamp` (visual_indicator) is no longer there" in words
    assert "`flag` (visual_indicator) is new" in words
