"""Verdicts, exit statuses and what the reports say, on real designs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from command import BANK_FROM_MASTER, HERON, ROOT, shutproof

BROKEN_PROPERTY = "air on a foot valve before every vent is open"

LAMP = """
design lamp "A lamp behind a button"
use standard
supply tractor
part button : push_button_3_2
part lamp : visual_indicator
line air : tractor, button.1
line shown : button.2, lamp.in
"""


def design(tmp_path: Path, properties: str) -> Path:
    path = tmp_path / "lamp.ilk"
    path.write_text(LAMP + properties)
    return path


def result(*arguments: object) -> dict[str, Any]:
    done = shutproof("prove", "--json", *arguments)
    document: dict[str, Any] = json.loads(done.stdout)
    schema = json.loads(shutproof("schema", "result").stdout)
    jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
    assert document["exit_status"] == done.returncode
    return document


def verdicts(document: dict[str, Any]) -> dict[str, str]:
    (only,) = document["designs"]
    return {item["name"]: item["verdict"] for item in only["properties"]}


def test_a_design_that_holds() -> None:
    document = result(HERON)
    assert document["exit_status"] == 0
    assert set(verdicts(document).values()) == {"holds"}
    assert {"comes to rest", "no contest"} <= set(verdicts(document))


def test_a_design_that_is_violated() -> None:
    document = result(BANK_FROM_MASTER)
    assert document["exit_status"] == 1
    assert verdicts(document)[BROKEN_PROPERTY] == "violated"


@pytest.mark.parametrize(
    ("statement", "verdict", "status"),
    [
        ('never "dark": showing(lamp)', "violated", 1),
        ('always "lit": if pushed(button) and tractor is present then showing(lamp)', "holds", 0),
        ('always "never asked": if showing(lamp) and low(shown) then high(air)', "vacuous", 1),
        ('possible "both": showing(lamp) and low(shown)', "violated", 1),
        ('possible "lights up": showing(lamp)', "holds", 0),
        ('order "air first": showing(lamp) only after high(shown)', "violated", 1),
        (
            'start tractor is present\nassume "air stays" because "a test":'
            ' always tractor is present\norder "air first": showing(lamp) only after high(air)',
            "holds",
            0,
        ),
        ('recovers "goes out": after not pushed(button) then not showing(lamp)', "holds", 0),
        ('recovers "goes on": after pushed(button) then showing(lamp)', "violated", 1),
    ],
    ids=lambda value: value.split('"')[-2] if isinstance(value, str) and '"' in value else None,
)
def test_every_form_and_verdict(statement: str, verdict: str, status: int, tmp_path: Path) -> None:
    """A button, a lamp: the answers can be told without a computer."""
    document = result(design(tmp_path, statement))
    name = statement.split('"')[-2]
    assert verdicts(document)[name] == verdict
    assert document["exit_status"] == status


def test_a_budget_too_small_is_inconclusive(tmp_path: Path) -> None:
    path = design(tmp_path, 'never "lit by nothing": showing(lamp) and tractor is absent')
    done = shutproof("prove", "--engine", "bounded", "--depth", "1", path)
    assert done.returncode == 3
    assert "inconclusive" in done.stdout
    assert "gave up" in done.stdout


def test_violated_outweighs_inconclusive(tmp_path: Path) -> None:
    unlit = 'never "lit by nothing": showing(lamp) and tractor is absent'
    path = design(tmp_path, f'{unlit}\nnever "off": tractor is absent')
    document = result("--engine", "bounded", "--depth", "1", path)
    assert verdicts(document)["lit by nothing"] == "inconclusive"
    assert verdicts(document)["off"] == "violated"
    assert document["exit_status"] == 1


def test_contradicting_assumptions_are_refused(tmp_path: Path) -> None:
    path = design(
        tmp_path,
        'assume "on" because "it is": always pushed(button)\n'
        'assume "off" because "it is not": never pushed(button)\n'
        'possible "lights up": showing(lamp)',
    )
    done = shutproof("prove", path)
    assert (done.returncode, done.stdout) == (2, "")
    assert "E0801" in done.stderr


def test_used_assumptions_are_named_and_others_not(tmp_path: Path) -> None:
    path = design(
        tmp_path,
        'assume "hands off" because "the cabinet is locked": never pushed(button)\n'
        'assume "some air" because "no reason": always tractor is present or tractor is absent\n'
        'never "dark": showing(lamp)\nnever "lit": showing(lamp) or not showing(lamp)',
    )
    (only,) = result(path)["designs"]
    dark = next(item for item in only["properties"] if item["name"] == "dark")
    assert [one["name"] for one in dark["assumptions"]] == ["hands off"]
    assert 'assumed: "hands off", because the cabinet is locked' in shutproof("prove", path).stdout


def test_a_story_is_the_shortest_and_has_no_idle_event(tmp_path: Path) -> None:
    """Button pushed and held, spool, lamp, and air before the lamp: known by hand."""
    document = result(design(tmp_path, 'never "dark": showing(lamp)'))
    (instance,) = document["designs"][0]["properties"][0]["instances"]
    story = instance["story"]
    assert story["steps"] == 3
    assert story["shortest"]
    events = sorted((event["by"], event["step"]) for event in story["events"])
    assert [by for by, _ in events] == ["movement", "movement", "operator", "surroundings"]
    assert [step for _, step in events[:3]] == [2, 3, 1]
    assert events[3][1] in (1, 2)
    assert story["end"]["at_rest"]


def test_only_some_properties() -> None:
    done = shutproof("prove", "--property", BROKEN_PROPERTY, "--property", "no contest", HERON)
    assert done.returncode == 0
    assert "heron: 2 properties, 2 hold." in done.stdout
    done = shutproof("prove", "--property", "no such thing", HERON)
    assert done.returncode == 2
    assert BROKEN_PROPERTY in done.stderr.replace("\n", " ")


def test_unknown_engine_is_wrong_usage() -> None:
    done = shutproof("prove", "--engine", "steam", HERON)
    assert done.returncode == 2
    assert "directed" in done.stderr


def test_every_case_is_told_when_asked() -> None:
    short = shutproof("prove", BANK_FROM_MASTER).stdout
    long = shutproof("prove", "--all", BANK_FROM_MASTER).stdout
    assert "--all tells how" in short
    assert "--all tells how" not in long
    assert long.count("The shortest way there") > short.count("The shortest way there")


def test_timings_stay_out_of_the_report() -> None:
    plain, timed = shutproof("prove", HERON), shutproof("prove", "--timings", HERON)
    assert plain.stdout == timed.stdout
    assert " s\n" in timed.stderr
    assert plain.stderr == ""


def test_report_is_80_columns() -> None:
    for line in shutproof("prove", BANK_FROM_MASTER).stdout.splitlines():
        assert len(line) <= 80


def test_two_designs_in_one_report(tmp_path: Path) -> None:
    done = shutproof("prove", HERON, BANK_FROM_MASTER)
    assert done.returncode == 1
    assert done.stdout.count("Caution:") == 1
    target = tmp_path / "report.txt"
    assert shutproof("prove", HERON, BANK_FROM_MASTER, "-o", target).returncode == 1
    assert target.read_text() == done.stdout


def test_smt2_has_an_unsat_for_every_obligation() -> None:
    """z3 on the script itself, as a stranger would run it."""
    import z3

    text = shutproof("export", HERON, "--as", "smt2").stdout
    assert text.count("(reset)\n") > 9
    context = z3.Context()
    answers = z3.Z3_eval_smtlib2_string(context.ref(), text).split()
    assert set(answers) == {"unsat"}
    proofs = [item["proof"] for item in result(HERON)["designs"][0]["properties"]]
    assert len(answers) >= sum(1 for proof in proofs if proof is not None)


def test_library_folder_is_what_is_listed() -> None:
    listed = shutproof("designs").stdout.split()
    assert [Path(line) for line in listed] == sorted((ROOT / "specs").glob("*/*.ilk"))
