"""Designs with mistakes: each is answered with exactly the codes and lines that it names."""

from __future__ import annotations

from pathlib import Path

import pytest

from verifier.diagnostics.codes_model import MODEL_CODES
from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.model.load import load

REJECTED = Path(__file__).parents[1] / "designs" / "rejected"
FILES = sorted(REJECTED.glob("*.ilk"))
MARK = "# expect:"


def expected(path: Path) -> list[str]:
    first = path.read_text(encoding="utf-8", errors="replace").split("\n")[0]
    assert first.startswith(MARK), f"{path.name} does not say what it expects"
    return sorted(one.strip() for one in first.removeprefix(MARK).split(","))


def told(path: Path) -> tuple[Diagnostic, ...]:
    try:
        return load(path).warnings
    except SourceError as problem:
        return problem.diagnostics


def place(diagnostic: Diagnostic) -> str:
    """`CODE@LINE`, with the file before the line when it is an included one."""
    file = Path(diagnostic.span.file)
    inner = file.relative_to(REJECTED).as_posix() if file.is_relative_to(REJECTED) else file.name
    shown = f"{inner}:" if "/" in inner else ""
    return f"{diagnostic.code}@{shown}{diagnostic.span.line}"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_codes_and_lines(path: Path) -> None:
    assert sorted({place(one) for one in told(path)}) == expected(path)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_messages_are_sentences_of_one_line(path: Path) -> None:
    for one in told(path):
        for text in (one.message, one.hint, *(label for _, label in one.related)):
            assert "\n" not in text
            assert "{" not in text
        assert one.message


def test_every_code_has_an_example() -> None:
    named = {item.split("@")[0] for path in FILES for item in expected(path)}
    assert sorted(set(MODEL_CODES) - named) == []
