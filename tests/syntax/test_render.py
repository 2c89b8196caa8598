"""Diagnostics as text: marks below what is meant, whatever the line holds."""

from __future__ import annotations

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from verifier.diagnostics.codes import CODES
from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.render import WIDTH, render
from verifier.diagnostics.span import Span
from verifier.diagnostics.suggest import did_you_mean, suggest


def shown(text: str, line: int, start: int, end: int, colour: bool = False) -> list[str]:
    span = Span("a.ilk", line, start, line, end)
    return render([Diagnostic(span, "E0107", "a colon is missing")], {"a.ilk": text}, colour).split(
        "\n"
    )


def test_line_marks_related_place_and_hint() -> None:
    here, there = Span("a.ilk", 12, 6, 12, 9), Span("b.ilk", 3, 1, 3, 5)
    found = Diagnostic(here, "E0121", "given twice", ((there, "first here"),), "take one out")
    warning = Diagnostic(here, "W0501", "a tee")
    texts = {"a.ilk": "\n" * 11 + "line air : x", "b.ilk": "\n\nlead\n"}
    assert render([found, warning], texts) == (
        "a.ilk:12:6: error E0121: given twice\n"
        "12 | line air : x\n"
        "   |      ^^^\n"
        "   = b.ilk:3:1: first here\n"
        " 3 | lead\n"
        "   | ----\n"
        "   = hint: take one out\n"
        "\n"
        "a.ilk:12:6: warning W0501: a tee\n"
        "12 | line air : x\n"
        "   |      ^^^\n"
    )


def test_tabs_wide_and_combining_characters_keep_the_marks_in_place() -> None:
    _, line, marks, _ = shown("\tline a", 1, 7, 8)
    assert line.index("a") == marks.index("^")
    _, line, marks, _ = shown('"弁弁" x', 1, 6, 7)
    assert marks.index("^") == line.index("x") + 2
    _, line, marks, _ = shown('"e\u0301" x', 1, 6, 7)
    assert marks.index("^") == line.index("x") - 1
    _, _, marks, _ = shown("弁", 1, 1, 2)
    assert marks.count("^") == 2


def test_lines_from_right_to_left_name_the_columns_instead() -> None:
    _, line, place, _ = shown('line a "שסתום" b', 1, 16, 17)
    assert "שסתום" in line
    assert place.endswith("columns 16 to 16: b")


def test_a_very_long_line_is_cut_around_the_place() -> None:
    text = "x" * 3_000 + "HERE" + "y" * 3_000
    _, line, marks, _ = shown(text, 1, 3_001, 3_005)
    assert len(line) <= WIDTH + 10
    assert line.count("…") == 2
    start = marks.index("^")
    assert line[start : start + 4] == "HERE"
    assert marks.count("^") == 4


def test_nothing_in_a_source_or_a_file_name_steers_the_terminal() -> None:
    span = Span("a\x1b[2J.ilk", 1, 1, 1, 2)
    found = Diagnostic(span, "E0102", "bad \x07 bell", (), "no \u202e turning")
    text = render([found], {"a\x1b[2J.ilk": "\x1b]0;title\x07"})
    assert all(unicodedata.category(c)[0] != "C" for c in text.replace("\n", ""))
    assert "<U+001B>" in text
    assert "<U+202E>" in text


def test_a_place_that_is_not_in_the_text_has_no_excerpt() -> None:
    assert len(shown("one line", 7, 1, 2)) == 2
    assert (
        render([Diagnostic(Span("b", 1, 1, 1, 2), "E0101", "m")], {}) == "b:1:1: error E0101: m\n"
    )


def test_colour_only_when_asked_for() -> None:
    assert "\x1b[" not in "".join(shown("line a b", 1, 7, 8))
    assert "\x1b[1;31m" in "".join(shown("line a b", 1, 7, 8, colour=True))


@given(st.text(max_size=200), st.integers(1, 4), st.integers(1, 210), st.integers(0, 210))
def test_any_place_in_any_text_can_be_shown(text: str, line: int, start: int, length: int) -> None:
    lines = shown(text, line, start, start + length)
    assert lines[0].startswith("a.ilk:")
    assert len(lines) in (2, 4)


def test_a_hint_is_given_only_when_one_word_stands_out() -> None:
    assert suggest("pilto", ["pilot", "port", "plug"]) == "pilot"
    assert suggest("Part", ["part", "port"]) == "part"
    assert suggest("vent3", ["vent1", "vent2"]) is None
    assert suggest("xyz", ["pilot", "port"]) is None
    assert suggest("port", []) is None
    assert suggest("a" * 10_000, ["a" * 9_999]) is None
    assert did_you_mean("pasage", ["passage", "part"]) == "did you mean `passage`?"
    assert did_you_mean("nothing_like_it", ["passage"]) == ""


def test_codes_are_well_formed_and_their_meanings_distinct() -> None:
    assert all(code[0] in "EW" and code[1:].isdigit() and len(code) == 5 for code in CODES)
    assert len(set(CODES.values())) == len(CODES)
