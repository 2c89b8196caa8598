"""Reading what was laid out gives the same tree: parse after layout is the identity."""

from __future__ import annotations

import re
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.syntax.trees import bare, sources
from verifier.diagnostics.limits import Limits
from verifier.shipped import grammar_folder, specs_folder
from verifier.syntax.layout import layout
from verifier.syntax.parse import parse
from verifier.syntax.tree import Source

LIMITS = Limits(max_line_length=20_000, max_nesting=100)
SHIPPED = (*sorted(specs_folder().glob("*/*.ilk")), grammar_folder() / "standard.ilk")
GAPS = re.compile(r'"(?:[^"\\\n]|\\.)*"|#[^\n]*|(?P<gap>[ \n]+)')


def read(text: str) -> Source:
    return parse(text, "design.ilk", LIMITS)


def remarks(source: Source) -> list[str]:
    return [comment.text for comment in source.comments]


def with_remarks(text: str, random: Random, share: float) -> str:
    """The text with comments put in between words, at random."""
    count = 0

    def put(match: re.Match[str]) -> str:
        nonlocal count
        if match["gap"] is None or random.random() > share:
            return match[0]
        count += 1
        before = random.choice((" ", "  ", "\n", "\n\n", "\n    "))
        return f"{before}# remark {count}\n{match['gap']}"

    return GAPS.sub(put, text)


@given(sources)
def test_a_tree_laid_out_and_read_is_the_same_tree(source: Source) -> None:
    text = layout(source)
    again = read(text)
    assert bare(again.statements) == bare(source.statements)
    assert layout(again) == text


@given(sources, st.randoms(use_true_random=False), st.sampled_from((0.05, 0.3, 1.0)))
def test_comments_anywhere_are_kept_in_order(source: Source, random: Random, share: float) -> None:
    commented = read(with_remarks(layout(source), random, share))
    assert bare(commented.statements) == bare(source.statements)
    once = read(layout(commented))
    assert bare(once.statements) == bare(source.statements)
    assert remarks(once) == remarks(commented)
    assert layout(once) == once.text


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
def test_shipped_files_survive_the_formatter(path: Path) -> None:
    source = read(path.read_text(encoding="utf-8"))
    again = read(layout(source))
    assert bare(again.statements) == bare(source.statements)
    assert again.comments
    assert remarks(again) == remarks(source)
    assert layout(again) == again.text
    statements = [line for line in again.text.split("\n") if not line.lstrip().startswith("#")]
    assert max(map(len, statements)) <= 100
    assert "\n\n\n" not in again.text


@given(sources)
def test_spans_lie_within_the_text_and_children_within_their_parents(source: Source) -> None:
    text = layout(source)
    lines = text.split("\n")

    def check(value: object, inside: tuple[int, int, int, int]) -> None:
        if isinstance(value, tuple):
            for part in value:
                check(part, inside)
        elif hasattr(value, "span"):
            span = value.span
            assert inside[:2] <= (span.line, span.column) < (span.end_line, span.end_column)
            assert (span.end_line, span.end_column) <= inside[2:]
            assert lines[span.line - 1][span.column - 1].strip()
            assert lines[span.end_line - 1][span.end_column - 2].strip()
            box = (span.line, span.column, span.end_line, span.end_column)
            for field in value.__struct_fields__:  # type: ignore[attr-defined]
                check(getattr(value, field), box)

    check(read(text).statements, (1, 1, len(lines), len(lines[-1]) + 1))
