"""Runs as text: what is written is read back, and mistakes are told where they are."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.runs.scripts import scripts
from verifier.diagnostics.codes import CODES
from verifier.diagnostics.diagnostic import Diagnostic, LimitError, SourceError
from verifier.diagnostics.limits import Limits
from verifier.diagnostics.render import render
from verifier.runs.read import read_fact, read_run
from verifier.runs.script import Air, Does, Expects, Script, Stands, without_places
from verifier.runs.write import script_text


@settings(max_examples=60)
@given(scripts())
def test_what_is_written_is_read_back(script: Script) -> None:
    text = script_text(script)
    again = read_run(text)
    assert without_places(again) == without_places(script)
    assert script_text(again) == text


@given(
    st.text(max_size=60) | st.lists(st.sampled_from(list('pull expect "[].,1# and'))).map("".join)
)
def test_any_text_is_read_or_refused(text: str) -> None:
    """No other exception, and a refusal has a place in the text."""
    refused: tuple[Diagnostic, ...] = ()
    try:
        read_run(text)
    except SourceError as refusal:
        refused = refusal.diagnostics
        told = render(refused, refusal.texts)
        refused = refused if told else ()
    for one in refused:
        assert one.code in CODES
        assert 1 <= one.span.line <= text.count("\n") + 1


@pytest.mark.parametrize(
    ("text", "code", "column", "hint"),
    [
        ("pul master", "E1001", 1, "did you mean `pull`?"),
        ("pull", "E1002", 1, ""),
        ("move vent[1] open", "E1002", 1, "say `move ELEMENT to POSITION`"),
        ("expect", "E1002", 1, "say for example"),
        ('expect "safe" gone', "E1002", 8, 'say `"NAME" broken`'),
        ("and pull master", "E1003", 1, ""),
        ("wait\nand pull master", "E1003", 1, ""),
        ("pull master\nand wait", "E1003", 1, ""),
        ("pull master\ndesign heron", "E1004", 1, ""),
        ("design heron\ndesign heron", "E1004", 1, ""),
        ("wrong stop.1 swapped", "E1002", 1, "say `wrong stop.1 and stop.2 swapped`"),
        ('run "open', "E1002", 5, ""),
        ("pull vent[1", "E1002", 1, ""),
        ("run heron", "E1002", 1, "say it like"),
    ],
)
def test_mistakes_are_told_where_they_are(text: str, code: str, column: int, hint: str) -> None:
    with pytest.raises(SourceError) as refusal:
        read_run(text)
    first = refusal.value.diagnostics[0]
    assert (first.code, first.span.line, first.span.column) == (code, text.count("\n") + 1, column)
    assert first.hint.startswith(hint)


def test_all_mistakes_are_told_at_once() -> None:
    with pytest.raises(SourceError) as refusal:
        read_run("pul master\nwait\nexpec lamp showing\n")
    assert [one.span.line for one in refusal.value.diagnostics] == [1, 3]


def test_comments_spaces_and_other_words_for_the_same() -> None:
    script = read_run(
        "# before\n  pull   master # now\nexpect lamp is showing\nexpect cell[1, 2] out\n"
        "expect no air at pick[1].2\n"
    )
    assert [line.what for line in script.lines] == [
        Does("pull", "master"),
        Expects(Stands("lamp", "showing")),
        Expects(Stands("cell[1,2]", "out")),
        Expects(Air("no air", "pick[1].2")),
    ]
    assert read_fact("valve held open") == Stands("valve", "held_open")


def test_lines_of_a_run_are_limited() -> None:
    with pytest.raises(LimitError, match="--max-statements"):
        read_run("wait\n" * 12, limits=Limits(max_statements=10))
