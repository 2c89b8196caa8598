"""Whatever is read, the answer is a tree, mistakes, or a limit: no other exception and no hang."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.syntax.trees import KEYWORDS, bare
from verifier.diagnostics.codes import CODES
from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import DEEPEST_NESTING, Limits
from verifier.diagnostics.render import render
from verifier.shipped import grammar_folder, specs_folder
from verifier.syntax.layout import layout
from verifier.syntax.parse import parse
from verifier.syntax.text import decode

LIMITS = Limits(max_bytes=50_000, max_nesting=20)
DESIGNS = [path.read_text(encoding="utf-8") for path in sorted(specs_folder().glob("*/*.ilk"))]
CATALOGUE = (grammar_folder() / "standard.ilk").read_text(encoding="utf-8")
PIECES = (
    *("\n", " ", "(", ")", "[", "]", ",", ":", ".", "..", "-", ">", '"', "#", "<", "=", "\\", "\t"),
    *(
        "1",
        "2.5",
        "7/0",
        "é",
        "א",
        "\x00",
        "\r",
        "\u202e",
        "“",
        "x",
        '"text"',
        "\nend\n",
        "\nkind k\n",
    ),
    *(f" {word} " for word in KEYWORDS),
)

SEEDS = st.integers(0, 2**32)


def answer(data: bytes) -> str:
    """What became of the bytes; checks that whatever is told can be shown."""
    try:
        source = parse(decode(data, "any.ilk"), "any.ilk", LIMITS)
    except SourceError as error:
        mistakes = error
    except LimitError as error:
        return str(error)
    else:
        again = parse(layout(source), "any.ilk", Limits())
        assert bare(again.statements) == bare(source.statements)
        assert [c.text for c in again.comments] == [c.text for c in source.comments]
        return "a tree"
    check_mistakes(mistakes)
    return "mistakes"


def check_mistakes(error: SourceError) -> None:
    """Known codes, in order, at places that exist, and shown with their lines."""
    assert error.diagnostics
    assert list(error.diagnostics) == sorted(error.diagnostics)
    lines = error.texts["any.ilk"].split("\n")
    for found in error.diagnostics:
        assert found.code in CODES
        for span in (found.span, *(span for span, _ in found.related)):
            assert 1 <= span.line <= len(lines)
            assert 1 <= span.column <= len(lines[span.line - 1]) + 1
            assert (span.line, span.column) < (span.end_line, span.end_column)
    assert render(error.diagnostics, error.texts).count("\n") >= 2 * len(error.diagnostics)


def is_answer(words: str) -> bool:
    return words in ("a tree", "mistakes") or "--max-" in words


def mutated(text: str, random: Random) -> str:
    for _ in range(random.randint(1, 6)):
        start = random.randrange(len(text) + 1)
        end = min(len(text), start + random.choice((0, 1, 1, 3, 20, 200)))
        piece = random.choice(PIECES)
        other = random.randrange(len(text) + 1)
        middle = random.choice(("", piece, piece, text[other : other + 30], text[start:end] * 2))
        text = text[:start] + middle + text[end:]
    return text


@given(st.binary(max_size=300))
def test_random_bytes(data: bytes) -> None:
    assert is_answer(answer(data))


@given(st.lists(st.sampled_from(PIECES), max_size=60))
def test_random_words(pieces: list[str]) -> None:
    assert is_answer(answer("".join(pieces).encode()))


@given(st.sampled_from(DESIGNS), SEEDS)
def test_mutated_designs(text: str, seed: int) -> None:
    assert is_answer(answer(mutated(text, Random(seed)).encode()))


@given(st.integers(0, len(CATALOGUE) - 1500), SEEDS)
def test_mutated_kinds(start: int, seed: int) -> None:
    start = CATALOGUE.rindex("\n", 0, start + 1) + 1 if "\n" in CATALOGUE[: start + 1] else 0
    text = CATALOGUE[start : start + 1500]
    assert is_answer(answer(mutated(text, Random(seed)).encode()))


DEEP = 10_000
TOO_MUCH = [
    ("max_nesting", 'never "a": ' + "(\n" * DEEP),
    ("max_nesting", 'never "a": ' + "not\n" * DEEP),
    ("max_nesting", 'never "a": ' + "if at rest then\n" * DEEP + "at rest"),
    ("max_nesting", 'never "a": ' + "every i:\n" * DEEP),
    ("max_nesting", "part a[" + "1 +\n" * DEEP + "1] : k"),
    ("max_nesting", "line a : b[" + "(\n" * DEEP),
    ("max_bytes", "# a\n" * 20_000),
    ("max_bytes", '"' + "é\n" * 20_000),
    ("max_line_length", "#" + "a" * 5_000),
    ("max_statements", "use a\n" * 101),
    ("max_statements", "kind k\n" + "ports 1\n" * 101 + "end"),
]


@pytest.mark.parametrize(("limit", "text"), TOO_MUCH, ids=[text[:20] for _, text in TOO_MUCH])
def test_limits_name_the_option_that_raises_them(limit: str, text: str) -> None:
    limits = Limits(max_bytes=200_000 if limit != "max_bytes" else 50_000, max_statements=100)
    with pytest.raises(LimitError, match="--" + limit.replace("_", "-")):
        parse(text, "big.ilk", limits)


def test_just_within_the_limits() -> None:
    nesting = 'never "a": ' + "not " * DEEPEST_NESTING + "at rest"
    source = parse(nesting, "d", Limits(max_nesting=DEEPEST_NESTING))
    assert layout(source).count("not") == DEEPEST_NESTING
    text = "use a\n" * 100
    assert len(parse(text, "d", Limits(max_statements=100, max_bytes=600)).statements) == 100


def test_limits_themselves_have_bounds() -> None:
    with pytest.raises(ValueError, match="--max-nesting"):
        Limits(max_nesting=DEEPEST_NESTING + 1)
    with pytest.raises(ValueError, match="--max-bytes"):
        Limits(max_bytes=0)
