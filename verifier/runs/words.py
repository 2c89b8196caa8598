"""A line of a run as words with their places."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from verifier.diagnostics.span import Span

_WORD = re.compile(r'"(?:[^"\\]|\\.)*"|(?:\[[^\]]*\]|[^\s"#])+')
_NAME = re.compile(r"[^\W\d]\w*(?:\[\d+(?:,\d+)*\])?(?:\.(?:[^\W\d]\w*|\d+)(?:\[\d+(?:,\d+)*\])?)*")


class Word(Struct, frozen=True):
    """column: of its first character, counting from 1."""

    text: str
    column: int
    end: int

    @property
    def quoted(self) -> bool:
        return self.text.startswith('"')


class Words(Struct, frozen=True):
    """The words of one line, comments left out. strange: the column of a sign that is no word's,
    for example of a quote that is not closed; 0 if there is none."""

    file: str
    number: int
    words: tuple[Word, ...]
    strange: int = 0

    @property
    def texts(self) -> tuple[str, ...]:
        return tuple(word.text for word in self.words)

    def span(self, first: int = 0, last: int | None = None) -> Span:
        """From one word to another, both counted."""
        words = self.words or (Word("", 1, 2),)
        begin, end = words[first], words[-1 if last is None else last]
        return Span(self.file, self.number, begin.column, self.number, end.end)


def words_of(text: str, file: str, number: int) -> Words:
    """Spaces within brackets do not count: `cell[1, 2]` is one word."""
    found: list[Word] = []
    at = 0
    for match in _WORD.finditer(text):
        between = text[at : match.start()]
        if between.strip():
            break
        word = match[0]
        if not word.startswith('"'):
            word = re.sub(r"\s+", "", word)
        found.append(Word(word, match.start() + 1, match.end() + 1))
        at = match.end()
    rest = text[at:]
    left = rest.lstrip()
    strange = len(text) - len(left) + 1 if left and not left.startswith("#") else 0
    return Words(file, number, tuple(found), strange)


def is_name(text: str) -> bool:
    """Whether it could be a name of a design: `vent[1]`, `leg[1].point[2].pick`, `stop.1`."""
    return _NAME.fullmatch(text) is not None


def unquoted(text: str) -> str:
    return re.sub(r"\\(.)", r"\1", text[1:-1])


def joined(texts: Sequence[str]) -> str:
    return " ".join(texts)
