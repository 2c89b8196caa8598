"""The library: a design's folder is the verdict expected of it."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent))

import library

from verifier.model.load import load
from verifier.report.result import DesignResult
from verifier.studies.prove import prove
from verifier.syntax.layout import layout

# Steps counted by hand from the rules of movement: an element needs one step for each position, a
# line none; hands and surroundings may act in the same step as elements.
BY_HAND = (
    # air on, master and selector pulled; three vents; foot valve (the cock at any time)
    ("specs/heron/heron.ilk", "each compartment can discharge", "i = 1", 5),
    # air on, hose on, master and selector pulled; four vents; manifold valve and foot valve
    ("specs/gannet/gannet.ilk", "each compartment can discharge", "i = 1", 6),
    # air on, master and selector pulled; the spindle to venting; to up
    ("specs/skua/skua.ilk", "each compartment can discharge", "i = 1", 3),
    # air on and parking lever; the brake
    ("specs/tern/tern.ilk", "the trailer can drive away", "", 2),
    # air on, master and selector pulled: its air is on the foot valve at once
    (
        "tests/designs/violated/heron_bank_from_master.ilk",
        "air on a foot valve before every vent is open",
        "i = 1, j = 1",
        1,
    ),
    # air on, master and selector pulled; vents 1 and 3; foot valve (the cock at any time)
    (
        "tests/designs/violated/heron_vent_left_out.ilk",
        "discharge with a vent shut",
        "i = 1, j = 2",
        4,
    ),
    # air on, master and selector pulled; three vents; the foot valve opens as the air goes; knob
    # and vents fall shut at once
    ("tests/designs/violated/heron_lift_air_trapped.ilk", "loss of air ends shut", "i = 1", 6),
    # air on, hose on outlet 2, master and selector 1 pulled; four vents; manifold valve 1
    (
        "tests/designs/violated/gannet_lock_outs_swapped.ilk",
        "an outlet open without a hose",
        "i = 1",
        6,
    ),
    # air on, master and two selectors of row 2 pulled; five vents; two manifold valves and the
    # balls of two shuttle valves; two foot valves
    (
        "tests/designs/violated/petrel_selectors_abreast.ilk",
        "two compartments meet",
        "i = 1, j = 2",
        8,
    ),
    # air on, master and selector pulled; the spindle lifts the foot valve first
    (
        "tests/designs/violated/skua_foot_before_vent.ilk",
        "discharge with its vent shut",
        "i = 1",
        2,
    ),
)

_TOLD = (
    ("violates", "violated"),
    ("voids", "vacuous"),
    ("leaves open", "inconclusive"),
    ("leaves to delays", "delay dependent"),
)


def delayed(path: Path) -> set[str]:
    """What is left to delays: an approved design has a chapter on it in its README."""
    if path in library.approved():
        text = (path.parent / "README.md").read_text(encoding="utf-8")
        return {"no race"} if "\n## Races\n" in text else set()
    return library.declared(path)["leaves to delays"]


def _name(path: Path) -> str:
    return path.stem


def _verdicts(result: DesignResult) -> dict[str, str]:
    return {item.name: item.verdict for item in result.properties}


def test_the_library_has_its_seven_designs() -> None:
    assert [path.stem for path in library.approved()] == [
        "fulmar", "gannet", "heron", "petrel", "shearwater", "skua", "tern",
    ]  # fmt: skip
    assert all(path.parent.name == path.stem for path in library.approved())


@pytest.mark.parametrize("path", [*library.approved(), *library.sound()], ids=_name)
def test_every_property_holds(path: Path) -> None:
    found = _verdicts(library.verdicts(path))
    assert set(library.property_names(path)) < set(found)
    assert {name for name, verdict in found.items() if verdict != "holds"} == delayed(path)
    assert {found[name] for name in delayed(path)} <= {"delay dependent"}


@pytest.mark.parametrize("path", library.violated(), ids=_name)
def test_a_defect_breaks_what_its_file_says_and_no_more(path: Path) -> None:
    result = library.verdicts(path)
    found = _verdicts(result)
    told = library.declared(path)
    for what, verdict in _TOLD:
        assert {name for name, one in found.items() if one == verdict} == told[what], verdict
    assert told["violates"], "names no property"
    for item in result.properties:
        if item.verdict == "violated" and item.form != "possible":
            stories = [one.story for one in item.instances if one.story is not None]
            assert stories, item.name
            assert all(story.shortest for story in stories), item.name
    kept = library.story_file(path).read_text(encoding="utf-8")
    assert kept == library.story(path), "run python tests/designs/library.py"


@pytest.mark.parametrize("path", library.violated(), ids=_name)
def test_a_variant_opens_with_its_defect_and_is_named_after_its_design(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert re.fullmatch(r"# [A-Z].+\.", first)
    assert path.stem.split("_")[0] in {design.stem for design in library.approved()}


def test_every_design_has_at_least_two_variants() -> None:
    families = [path.stem.split("_")[0] for path in library.violated()]
    for design in library.approved():
        assert families.count(design.stem) >= 2, design.stem


@pytest.mark.parametrize(
    ("file", "name", "label", "steps"), BY_HAND, ids=[f"{Path(b[0]).stem}: {b[1]}" for b in BY_HAND]
)
def test_shortest_runs_are_as_long_as_counted_by_hand(
    file: str, name: str, label: str, steps: int
) -> None:
    (item,) = prove(load(library.ROOT / file), names=(name,)).properties
    one = next(one for one in item.instances if one.label == label)
    assert one.story is not None
    assert one.story.steps == steps


@pytest.mark.parametrize("path", library.approved(), ids=_name)
def test_the_readme_of_a_design_explains_every_property(path: Path) -> None:
    text = (path.parent / "README.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (.+?) \| P\d+ \|", text, re.MULTILINE)
    assert rows == library.property_names(path)
    for heading in ("Function", "How it is worked", "Hazards", "Cautions"):
        assert f"\n## {heading}\n" in text


@pytest.mark.parametrize(
    "path", [*library.approved(), *library.sound(), *library.violated()], ids=_name
)
def test_designs_are_in_the_canonical_layout(path: Path) -> None:
    assert path.read_text(encoding="utf-8") == layout(library.source(path))


def test_the_index_of_the_library_is_current() -> None:
    kept = (library.SPECS / "README.md").read_text(encoding="utf-8")
    assert kept == library.index(), "run python tests/designs/library.py"
