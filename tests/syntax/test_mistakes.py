"""Every syntax mistake: its code, its exact place, and all mistakes of a file at once."""

from __future__ import annotations

import pytest

from verifier.diagnostics.codes import SYNTAX
from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.limits import Limits
from verifier.syntax.parse import parse
from verifier.syntax.text import decode


def mistakes(text: str) -> tuple[Diagnostic, ...]:
    with pytest.raises(SourceError) as caught:
        parse(text, "design.ilk", Limits())
    return caught.value.diagnostics


def places(text: str) -> list[tuple[str, int, int]]:
    return [(d.code, d.span.line, d.span.column) for d in mistakes(text)]


# One mistake each: the text, the code, the line, the columns (end exclusive), a word of the hint.
SINGLE = [
    ("use standard\x07\n", "E0102", 1, 13, 14, "take it out"),
    ("line a\u202e : b.1\n", "E0102", 1, 7, 8, "take it out"),
    ('design heron "three compartments\n', "E0103", 1, 14, 33, "one line"),
    ('revision "C:\\new"\n', "E0104", 1, 13, 15, "backslash"),
    ("line a : b.1; c.2\n", "E0105", 1, 13, 14, "semicolon"),
    ("never “a”: at rest\n", "E0105", 1, 7, 8, "straight"),
    ('always "a": high(b) & high(c)\n', "E0105", 1, 21, 22, "`and`"),
    ("prat stop : push_button\n", "E0106", 1, 1, 5, "`part`"),
    ("partstop : push_button\n", "E0106", 1, 1, 9, ""),
    ("line air tractor, stop.1\n", "E0107", 1, 9, 10, "after its name"),
    ("line air = tractor, stop.1\n", "E0107", 1, 9, 10, "after its name"),
    ("part stop push_button\n", "E0107", 1, 10, 11, "its kind"),
    ('never "a" high(b)\n', "E0107", 1, 10, 11, "never"),
    ("kind k\n  means open spool is out\nend\n", "E0107", 2, 13, 14, "means open"),
    ("kind k\n  ports 1, 2\npart a : k\n", "E0108", 1, 1, 5, "`end`"),
    ("assembly leg(n)\n  part a : b\n\nline c : d.1\n", "E0108", 1, 1, 9, "`end`"),
    ("part a : b\nend\n", "E0109", 2, 1, 4, ""),
    ("line a : b.1,\npart c : d\n", "E0110", 1, 14, 15, ""),
    ("line a : b.1,", "E0110", 1, 14, 15, "a name"),
    ("line a : b.1 c.2\n", "E0111", 1, 13, 14, ""),
    ("line a : b.1,\n    c.2\n    d.3\n", "E0111", 2, 8, 9, ""),
    ("kind k\n  ports 1 2\nend\n", "E0111", 2, 10, 11, ""),
    ('always "a": if (high(b) then high(c)\n', "E0112", 1, 16, 17, "`)`"),
    ('always "a": high(b))\n', "E0112", 1, 20, 21, ""),
    ('never "a": flow(tank[1, b)\n', "E0112", 1, 21, 22, "`]`"),
    ('never "a": flow(tank[1], b\nuse c\n', "E0112", 1, 16, 17, "`)`"),
    ("tube a at b : length 2,5 m\n", "E0113", 1, 22, 24, "2.5"),
    ("tube a at b : length .5 m\n", "E0113", 1, 22, 23, "0.5"),
    ("part 12 : k\n", "E0114", 1, 6, 8, "letter"),
    ("part [1..2] : k\n", "E0114", 1, 5, 6, ""),
    ("never high(a)\n", "E0115", 1, 6, 7, "never"),
    ("include standard.ilk\n", "E0115", 1, 8, 9, "quotes"),
    ("port x : a.b\n", "E0116", 1, 1, 5, "in an assembly"),
    ("assembly a\n  supply b\nend\n", "E0116", 2, 3, 9, "outside"),
    ("kind k\n  to out when high(1)\nend\n", "E0116", 2, 3, 5, "element"),
    ('always "a": if high(b) thn high(c)\n', "E0117", 1, 24, 27, "`then`"),
    ("kind k\n  element e: a, b\n    in a pases 1-2\nend\n", "E0117", 3, 10, 15, "`passes`"),
    ("line a : b.1.\n", "E0110", 1, 14, 15, ""),
    ("line a : b[1234567890].1\n", "E0118", 1, 12, 22, "unit"),
    ("tube a at b : bore 4/0 mm\n", "E0119", 1, 20, 23, "zero"),
    ("tube a at b : bore 4\n", "E0120", 1, 21, 22, "mm"),
    ("tube a at b : bore 4, length 3 m\n", "E0120", 1, 21, 22, "mm"),
    ("tube a at b : bore 4 mm, bore 6 mm\n", "E0121", 1, 26, 35, ""),
    ("start master home\n", "E0122", 1, 13, 14, "is POSITION"),
    ('assume "a": never high(b)\n', "E0122", 1, 11, 12, ""),
    ('order "a": high(b) after high(c)\n', "E0122", 1, 19, 20, ""),
]


@pytest.mark.parametrize(
    ("text", "code", "line", "start", "end", "hint"), SINGLE, ids=[case[0] for case in SINGLE]
)
def test_a_mistake_has_its_code_place_and_hint(
    text: str, code: str, line: int, start: int, end: int, hint: str
) -> None:
    (found,) = mistakes(text)
    span = found.span
    assert (found.code, span.line, span.column) == (code, line, start)
    assert (span.end_line, span.end_column) == (line, end)
    assert hint in found.hint


def test_every_syntax_code_is_tested() -> None:
    tested = {case[1] for case in SINGLE}
    assert tested | {"E0101", "E0123"} == set(SYNTAX)


def test_no_message_speaks_of_the_parser() -> None:
    for case in SINGLE:
        for found in mistakes(case[0]):
            words = found.message + found.hint + "".join(text for _, text in found.related)
            assert not any(t in words for t in ("NAME", "STRING", "DECIMAL", "ANON", "oken", "$"))


def test_all_mistakes_of_a_file_are_told_at_once() -> None:
    text = """design heron
line air tractor, stop.1
part stop : push_button role
part vent[1..3] : sequence_vent
kind k
  element e: a, b
    too a when high(1)
    to b wen high(1)
    in b passes 1-2
  pasage 1-2
  ports 1, 2
end
never high(a)
tube a at b : bore 4/0 mm
line b : c.1 d.2
revision "a\\b"
"""
    assert places(text) == [
        ("E0107", 2, 9),
        ("E0110", 3, 29),
        ("E0106", 7, 5),
        ("E0117", 8, 10),
        ("E0106", 10, 3),
        ("E0115", 13, 6),
        ("E0119", 14, 20),
        ("E0111", 15, 13),
        ("E0104", 16, 12),
    ]


def test_a_broken_heading_of_a_block_does_not_upset_what_follows() -> None:
    text = "assembly bank(n\n  part a : b\n  line c d\nend\nline e f\n"
    assert places(text) == [("E0112", 1, 14), ("E0107", 3, 9), ("E0107", 5, 7)]
    text = "assembly\n  part a : b\n  line c d\nend\nline e f\n"
    assert places(text) == [("E0110", 1, 9), ("E0107", 3, 9), ("E0107", 5, 7)]


def test_a_statement_that_cannot_stand_in_a_block_does_not_end_it() -> None:
    text = "assembly a\n  supply b\n  line c d\n  part e : f\nend\npart g h\n"
    assert places(text) == [("E0116", 2, 3), ("E0107", 3, 9), ("E0107", 6, 7)]


def test_another_place_is_named_where_it_helps() -> None:
    (unended,) = mistakes("kind k\n  ports 1\npart a : k\n")
    assert [(span.line, span.column) for span, _ in unended.related] == [(3, 1)]
    (twice,) = mistakes("tube a at b : bore 4 mm, bore 6 mm\n")
    assert [(span.line, span.column) for span, _ in twice.related] == [(1, 15)]


def test_after_many_mistakes_the_rest_is_not_read() -> None:
    found = mistakes("line a b\n" * 500)
    assert [d.code for d in found] == ["E0107"] * 20 + ["E0123"]


def test_words_of_the_language_are_not_cut_out_of_longer_words() -> None:
    assert places("lineup : a.1, b.2\n") == [("E0106", 1, 1)]
    assert places('never "a": high(b) foreach i\n') == [("E0117", 1, 20)]


@pytest.mark.parametrize(
    ("data", "code", "line", "column"),
    [
        (b"use standard\nline \xff : a", "E0101", 2, 6),
        ("use caf\u00e9".encode("latin-1"), "E0101", 1, 8),
        ("use standard".encode("utf-16"), "E0101", 1, 1),
        (b"use a\n\x00\n", "E0102", 2, 1),
        (b"a\x00\xff", "E0102", 1, 2),
        (b"\xed\xa0\x80", "E0101", 1, 1),
    ],
)
def test_bytes_that_are_no_text(data: bytes, code: str, line: int, column: int) -> None:
    with pytest.raises(SourceError) as caught:
        decode(data, "design.ilk")
    (found,) = caught.value.diagnostics
    assert (found.code, found.span.line, found.span.column) == (code, line, column)


def test_line_ends_and_byte_order_marks_are_evened_out() -> None:
    assert decode(b"\xef\xbb\xbfuse a\r\nuse b\r\n", "d") == "use a\nuse b\n"


def test_a_lone_carriage_return_cannot_hide_a_statement_in_a_comment() -> None:
    assert places("# all is well\rpart a : b\n") == [("E0102", 1, 14)]
