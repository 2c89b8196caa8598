"""`shutproof faults`: the report, the document, exit statuses and how it stops."""

from __future__ import annotations

import json
import re
import signal
import subprocess
import time

import jsonschema
import pytest

from tests.cli.command import HERON, ROOT, SHUTPROOF, shutproof
from verifier.report.json import schema_path

LAMP = "the indicator shows with a vent shut"
APART = "two compartments joined"


@pytest.fixture(scope="module")
def lamp() -> dict[str, object]:
    run = shutproof("faults", HERON, "--property", LAMP, "--json", "--story", "lamp stuck")
    assert run.returncode == 1, run.stderr
    document: dict[str, object] = json.loads(run.stdout)
    schema = json.loads(schema_path("faults").read_text())
    jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
    return document


def test_document_tells_cut_sets_groups_and_one_story(lamp: dict[str, object]) -> None:
    (design,) = lamp["designs"]  # type: ignore[misc]
    (item,) = design["properties"]
    told = [tuple(one["faults"]) for one in item["cut_sets"]]
    assert ("lamp stuck",) in told
    assert ("tube pass[1] blocked",) in told
    assert ("tube pass[2] blocked",) in told
    group = next(one for one in item["groups"] if one["pattern"] == ["tube pass[i] blocked"])
    assert group["every"]
    assert [item["cut_sets"][k]["faults"] for k in group["members"]] == [
        ["tube pass[1] blocked"],
        ["tube pass[2] blocked"],
    ]
    stories = [one["faults"] for one in item["cut_sets"] if one["story"]]
    assert stories == [["lamp stuck"]]
    assert [one["complete"] for one in item["orders"]] == [True, True]
    assert item["complete_to"] == 1
    assert item["tolerated"] == 0


def test_no_single_fault_defeats_what_only_pipes_keep_apart() -> None:
    run = shutproof("faults", HERON, "--property", APART)
    assert run.returncode == 0, run.stderr
    assert re.search(r"No single one of the \d+ faults considered defeats this", run.stdout)


def test_possible_is_not_asked_and_says_why() -> None:
    run = shutproof("faults", HERON, "--property", "each compartment can discharge")
    assert run.returncode == 0
    assert "what is possible stays possible" in " ".join(run.stdout.split())


def test_small_budget_says_what_is_known() -> None:
    run = shutproof("faults", HERON, "--property", LAMP, "--conflicts", "20")
    assert run.returncode == 3
    assert "used up its budget of 20 conflicts" in " ".join(run.stdout.split())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--story", "lamp stack"), "did you mean `lamp stuck`?"),
        (("--story", "vent[1] stuck"), "no minimal cut set of what was asked"),
        (("--property", "the lamp"), "there is no property"),
        (("--order", "-1"), "--order"),
    ],
)
def test_mistakes_are_told(arguments: tuple[str, ...], words: str) -> None:
    run = shutproof("faults", HERON, "--property", LAMP, *arguments)
    assert run.returncode == 2
    assert words in " ".join(run.stderr.split())


def test_interrupt_tells_what_is_proved_so_far() -> None:
    """An order that cannot end: progress on standard error, and a report all the same."""
    process = subprocess.Popen(
        [str(SHUTPROOF), "faults", str(HERON), "--order", "9", "--progress"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stderr is not None
    first = process.stderr.readline()
    time.sleep(0.2)
    process.send_signal(signal.SIGINT)
    out, _ = process.communicate(timeout=60)
    assert "heron: " in first
    assert process.returncode == 130
    assert "with nothing failing: it holds" in out or "Nothing is known yet" in out
    assert "Interrupted." in out
