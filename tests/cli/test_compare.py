"""`shutproof compare`: what a reviewer reads, and the exit status that a build server sees."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from command import HERON, ROOT, shutproof

VIOLATED = ROOT / "tests" / "designs" / "violated"


def compared(old: Path, new: Path, *more: object) -> dict[str, Any]:
    done = shutproof("compare", old, new, "--json", *more)
    document: dict[str, Any] = json.loads(done.stdout)
    schema = json.loads(shutproof("schema", "comparison").stdout)
    jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
    assert document["exit_status"] == done.returncode, done.stderr
    return document


def edited(tmp_path: Path, *edits: tuple[str, str]) -> Path:
    """heron, with text replaced."""
    text = HERON.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "heron.ilk"
    path.write_text(text, encoding="utf-8")
    return path


def weights(document: dict[str, Any]) -> dict[str, tuple[str, bool]]:
    return {
        one["name"]: (one["weight"], one["loss"])
        for one in document["statements"]
        if one["weight"] != "same"
    }


def test_crossed_lines_are_worse_and_the_story_is_told() -> None:
    done = shutproof("compare", HERON, VIOLATED / "heron_lines_crossed.ilk")
    assert done.returncode == 1
    for line in (
        "    `foot[1].pilot` is on line `lift[2]`, and was on line `lift[1]`",
        '  ! "the drawn selector opens its foot valve" is violated, and held',
        "    27 of 33 things that can be seen of both never differ",
        "    In the new design only:",
    ):
        assert line in done.stdout.splitlines(), line
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_new_names_are_plumbing_only(tmp_path: Path) -> None:
    new = edited(tmp_path, ("pick[", "tap["), ("line back ", "line home_air "))
    document = compared(HERON, new)
    assert (document["outcome"], document["exit_status"]) == ("plumbing only", 0)
    assert document["behaviour"]["answer"] == "same"
    assert document["retest"]["parts"] == []
    assert {one["what"] for one in document["differences"]} == {"part renamed", "line renamed"}


def test_layout_and_comments_are_no_change(tmp_path: Path) -> None:
    new = edited(tmp_path, ("line trip            :", "# the stop\nline trip :"))
    assert compared(HERON, new)["differences"] == []


ALWAYS = 'always "loss of air ends shut":\n    if tractor is absent then shut(foot[i]) and '
VENTS = ALWAYS + "shut(vent[i])"

LOSSES = {
    "dropped": (('never at every moment "two compartments', 'possible "two compartments'),),
    "fewer valves": ((VENTS, VENTS.replace(" and shut(vent[i])", "")),),
    "at rest only": (('never at every moment "air on', 'never "air on'),),
    "taken for granted": (
        ("line air ", 'assume "nobody pushes" because "so we say": never pushed(stop)\nline air '),
    ),
}


@pytest.mark.parametrize(
    ("what", "name", "weight"),
    [
        ("dropped", "two compartments joined", "other"),
        ("fewer valves", "loss of air ends shut", "weaker"),
        ("at rest only", "air on a foot valve before every vent is open", "weaker"),
        ("taken for granted", "nobody pushes", "added"),
    ],
)
def test_promising_less_is_never_quiet(what: str, name: str, weight: str, tmp_path: Path) -> None:
    new = edited(tmp_path, *LOSSES[what])
    document = compared(HERON, new)
    assert weights(document)[name] == (weight, True)
    assert (document["outcome"], document["exit_status"]) == ("worse", 1)
    back = compared(new, HERON)
    if what in ("fewer valves", "at rest only"):
        assert weights(back)[name] == ("stronger", False)
        assert back["outcome"] == "no loss"


def test_what_was_dropped_is_worse(tmp_path: Path) -> None:
    text = HERON.read_text(encoding="utf-8")
    new = tmp_path / "heron.ilk"
    new.write_text(re.sub(r'^always "loss of air.*\n.*\n.*\n', "", text, flags=re.MULTILINE))
    document = compared(HERON, new)
    assert weights(document) == {"loss of air ends shut": ("dropped", True)}
    gone = [one for one in document["verdicts"] if one["trend"] == "gone"]
    assert [one["name"] for one in gone] == ["loss of air ends shut"]


def test_the_same_in_other_words(tmp_path: Path) -> None:
    turned = "if pressed(stop) then shut(vent[i]) and shut(foot[i])"
    new = edited(tmp_path, ("if pressed(stop) then shut(foot[i]) and shut(vent[i])", turned))
    document = compared(HERON, new)
    assert weights(document) == {"the stop shuts every valve": ("reworded", False)}
    assert document["outcome"] == "plumbing only"


LAMPS = """design lamps
use standard
supply tractor
part button : push_button_3_2
part lamp[1..2] : visual_indicator
line air : tractor, button.1
line shown : button.2, lamp[1..2].in
always "some lamp shows":
    if tractor is present and pushed(button) then showing(lamp[1]) or showing(lamp[2])
"""


def test_cut_sets_gained_and_lost(tmp_path: Path) -> None:
    """One lamp of two taken away: a lamp that sticks is enough now, and renames are no change."""
    old, new, renamed = (tmp_path / f"{name}.ilk" for name in ("old", "new", "renamed"))
    old.write_text(LAMPS)
    new.write_text(LAMPS.replace("[1..2]", "[1..1]").replace(" or showing(lamp[2])", ""))
    text = LAMPS.replace("part button", "part knob").replace("button.", "knob.")
    renamed.write_text(text.replace("(button)", "(knob)").replace("line shown", "line seen"))
    (told,) = compared(old, new, "--faults", 1)["cut_sets"]
    assert any(fault.startswith("lamp[1] ") for (fault,) in told["gained"])
    assert told["complete"]
    assert all("lamp[2]" in fault or "tube" in fault for (fault,) in told["lost"])
    (same,) = compared(old, renamed, "--faults", 1)["cut_sets"]
    assert (same["gained"], same["lost"]) == ([], [])
    text = shutproof("compare", old, new, "--faults", 1).stdout
    assert "Which faults are enough to break it:" in text
    assert "enough now: lamp[1]" in " ".join(text.split())


def test_markdown_names_are_no_markup() -> None:
    done = shutproof("compare", HERON, VIOLATED / "heron_vent_left_out.ilk", "--markdown")
    assert done.returncode == 1
    assert done.stdout.startswith("**worse**: ")
    assert "### What it does to safety" in done.stdout
    outside = re.sub(r"^````.*?^````", "", done.stdout, flags=re.MULTILINE | re.DOTALL)
    assert not re.search(r"(?<!\\)[\[<#|]", outside.replace("###", "")), outside


def test_a_refused_file_is_told(tmp_path: Path) -> None:
    bad = tmp_path / "bad.ilk"
    bad.write_text("design bad\npart x: no_such_kind\n")
    done = shutproof("compare", HERON, bad)
    assert done.returncode == 2
    assert "no_such_kind" in done.stderr
    assert done.stdout == ""
    document = json.loads(shutproof("compare", HERON, bad, "--json").stdout)
    assert document["refused"][0]["file"] == str(bad)


def test_output_file_and_options_that_exclude_each_other(tmp_path: Path) -> None:
    there = tmp_path / "told.txt"
    done = shutproof("compare", HERON, HERON, "-o", there)
    assert (done.returncode, done.stdout) == (0, "")
    assert "nothing that can be told" in there.read_text()
    assert shutproof("compare", HERON, HERON, "--json", "--markdown").returncode == 2
