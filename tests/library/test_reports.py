"""What build servers and code hosts are told: valid by the published schemas, whatever the names
contain, with the story at its places in the design."""

from __future__ import annotations

import os
from pathlib import Path
from urllib.parse import unquote
from xml.etree import ElementTree

import jsonschema
import pytest

from tests.library.published import check_junit, check_sarif
from tests.library.shelf import LAMP, shutproof
from verifier.diagnostics.span import Span
from verifier.model.load import load_text
from verifier.report.library import Examined, LibraryResult, Status
from verifier.report.library_text import junit
from verifier.report.result import (
    Ending,
    Event,
    InstanceResult,
    Mistake,
    PropertyResult,
    Race,
    Refused,
    Related,
    Result,
    Story,
    Verdict,
    Way,
)
from verifier.report.sarif import sarif_of_library, sarif_of_result, uri_of
from verifier.studies.prove import prove

BROKEN = LAMP.replace("tractor is present and ", "")
NAMES = [
    "plain.ilk",
    "two words & <tag>.ilk",
    "a\nnewline\tand\r\x00\x07\x1b bells.ilk",
    "\u202eright to left.ilk",
    "]]>.ilk",
    "catalogue:x.ilk",
    "/from/the/root.ilk",
    "l\udcffmp.ilk",
    "\ufffe\uffff.ilk",
    "\U0001f6e2 \u05e9\u05dc\u05d5\u05dd.ilk",
]
END = Ending((), (), (), (), (), True)


def broken(name: str, verdict: Verdict) -> PropertyResult:
    """A property that does not hold; everything in it is called by the name."""
    span = Span(name, 3, 1, 4, 7)
    event = Event(1, "operator", name, name, (name,), span=span)
    story = Story((event, Event(1, "leak", name)), 1, True, END, name)
    race = Race(
        "order", (name, name), (), 0, Way(name, (event,), END), Way(name, (), END), 1, True, name
    )
    case = InstanceResult(
        name,
        verdict,
        name,
        story=story if verdict == "violated" else None,
        race=race if verdict == "delay dependent" else None,
        reason=name,
    )
    return PropertyResult(name, "never", False, "at_rest", verdict, (case,), span)


def examined(name: str) -> list[Examined]:
    """One of each status, with stories, races, open questions and mistakes."""
    mistake = Mistake("E0101", "error", name, Span(name, 1, 1, 1, 1), (Related(SPAN, name),), name)
    verdicts: tuple[Verdict, ...] = ("violated", "vacuous", "inconclusive", "delay dependent")
    properties = tuple(broken(name, verdict) for verdict in verdicts)
    plain: tuple[Status, ...] = ("approved", "unapproved", "tampered", "missing", "failed")
    return [
        *(Examined(name, status, reason=name, by=name, date=name) for status in plain),
        Examined(name, "changed", "violated", name, properties=properties),
        Examined(name, "not certified", "inconclusive", name, properties=properties[2:3]),
        Examined(name, "invalid", reason=name, refused=Refused(name, (mistake,), name)),
    ]


SPAN = Span("catalogue:standard.ilk", 1, 2, 1, 2)


@pytest.mark.parametrize("name", NAMES, ids=range(len(NAMES)))
def test_every_name_makes_valid_reports(name: str) -> None:
    told = LibraryResult(name, tuple(examined(name)), 0, 1, ())
    report = junit(told)
    check_junit(report)
    (suite,) = ElementTree.fromstring(report)
    counts = [len(list(suite.iter(kind))) for kind in ("testcase", "failure", "error")]
    assert counts == [8, 5, 2]
    assert [suite.get(one) for one in ("tests", "failures", "errors")] == ["8", "5", "2"]
    log = check_sarif(sarif_of_library(told))
    results = log["runs"][0]["results"]
    by_rule = [one["ruleId"] for one in results]
    for rule in ("tampered", "missing", "failed", "unapproved", "changed", "not certified"):
        assert by_rule.count(rule) == 1
    assert by_rule.count("violated") == 1
    assert by_rule.count("inconclusive") == 2
    assert "approved" not in by_rule


def test_the_schemas_refuse_what_is_wrong() -> None:
    """That they are looked at at all."""
    log = sarif_of_result(Result((), (), 0, ())).replace(b'"version": "2.1.0"', b'"version": "2"')
    with pytest.raises(jsonschema.ValidationError):
        check_sarif(log)
    report = junit(LibraryResult("x", (), 0, 0, ())).replace(b"tests=", b"tested=")
    with pytest.raises(Exception, match="tested"):
        check_junit(report)


@pytest.mark.parametrize(
    ("file", "uri"),
    [
        ("a/b c.ilk", "a/b%20c.ilk"),
        ("/a.ilk", "file:///a.ilk"),
        ("a:b.ilk", "a%3Ab.ilk"),
        ("\udcff.ilk", "%FF.ilk"),
        ("?#%.ilk", "%3F%23%25.ilk"),
    ],
)
def test_names_become_uris(file: str, uri: str) -> None:
    """RFC 3986: what is reserved is written by its numbers, a colon in a first segment as well."""
    assert uri_of(file) == uri
    assert os.fsencode(unquote(uri, errors="surrogateescape")).endswith(os.fsencode(file))


def test_the_story_is_a_code_flow_through_the_design() -> None:
    design = prove(load_text(BROKEN, "lamp.ilk"))
    log = check_sarif(sarif_of_result(Result((design,), (), 1, ())))
    (run,) = log["runs"]
    (result,) = run["results"]
    assert (result["ruleId"], result["level"]) == ("violated", "error")
    assert "the button shows" in result["message"]["text"]
    lines = BROKEN.splitlines()
    place = result["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "lamp.ilk"
    assert lines[place["region"]["startLine"] - 1].startswith('always "the button shows"')
    (flow,) = result["codeFlows"]
    steps = flow["threadFlows"][0]["locations"]
    first = steps[0]["location"]
    assert "button is pushed" in first["message"]["text"]
    region = first["physicalLocation"]["region"]
    assert lines[region["startLine"] - 1].startswith("part button")
    assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == "violated"


def test_the_commands_write_it(tmp_path: Path) -> None:
    lamp = tmp_path / "library" / "b" / "lamp.ilk"
    lamp.parent.mkdir(parents=True)
    lamp.write_text(BROKEN)
    (lamp.parent / os.fsdecode(b"l\xffmp.ilk")).write_text("design x\npart y : z\n")
    log, other = tmp_path / "regress.sarif", tmp_path / "prove.sarif"
    report = tmp_path / "report.xml"
    folder = lamp.parent.parent
    done = shutproof("regress", folder, "--sarif", log, "--junit", report, "--json")
    assert done.returncode == 1, done.stderr
    check_junit(report.read_bytes())
    results = check_sarif(log.read_bytes())["runs"][0]["results"]
    assert {one["ruleId"] for one in results} >= {"violated", "unapproved"}
    places = [one["locations"][0]["physicalLocation"]["artifactLocation"] for one in results]
    assert {place["uri"] for place in places} == {"b/lamp.ilk", "b/l%5Cxffmp.ilk"}
    assert shutproof("prove", lamp, "--sarif", other).returncode == 1
    check_sarif(other.read_bytes())
