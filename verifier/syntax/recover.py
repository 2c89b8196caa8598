"""Where a statement may begin: the lines at which parsing goes on after a mistake."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator

from msgspec import Struct

from verifier.diagnostics.span import Span

BLOCKS = ("assembly", "kind")
TOP = (
    *("design", "revision", "use", "include", "supply", "surroundings", "part", "line", "tube"),
    *("open", "plug", "place", "liquid", "vapour", "never", "always", "possible", "order"),
    *("recovers", "assume", "runs", "start", "accept", "exclude", "common", "rate", *BLOCKS),
)
ASSEMBLY_ITEMS = (
    *("port", "surroundings", "part", "line", "tube", "open", "plug", "place", "liquid", "vapour"),
    *("never", "always", "possible", "order", "recovers", "assume", "start"),
    *("accept", "exclude", "common", "rate"),
)
KIND_ITEMS = (
    *("ports", "exhausts", "liquid", "vapour", "hand", "surroundings", "passage", "element"),
    *("means", "role", "fault"),
)
ELEMENT_ITEMS = ("in", "to", "otherwise")
OPENERS = tuple(dict.fromkeys((*TOP, *ASSEMBLY_ITEMS, *KIND_ITEMS, *ELEMENT_ITEMS)))

# A keyword as a keyword, not the name of something: such a sign or word does not come next.
_BEGINS = re.compile(
    rf"([ \t]*)(?:({'|'.join(sorted(OPENERS, key=len, reverse=True))})\b"
    r"[ \t]*+(?![(\[.,:=<>)\]+*/-])(?!is\b|by\b)|(end)\b[ \t]*(?:\#|$))"
)


class Beginning(Struct, frozen=True):
    """A line that begins a statement: its keyword, and the offset and place of that keyword."""

    line: int
    start: int
    indentation: int
    word: str


class Lines:
    """A text with the offsets of its lines, counted from 1."""

    def __init__(self, text: str) -> None:
        self._lines = text.split("\n")
        self._starts: list[int] = [0]
        for line in self._lines:
            self._starts.append(self._starts[-1] + len(line) + 1)

    def __len__(self) -> int:
        return len(self._lines)

    def place(self, at: int) -> tuple[int, int]:
        """Line and column of an offset."""
        line = bisect_right(self._starts, at)
        return line, at - self._starts[line - 1] + 1

    def offset(self, span: Span) -> int:
        """Where a span begins in the text."""
        return self._starts[span.line - 1] + span.column - 1

    def column(self, span: Span) -> int:
        """The column, from 1, at which the line of a span begins."""
        return self.indentation(span.line) + 1

    def outdented_after(self, block: Span) -> Span | None:
        """The first later line that begins a statement as far left as the block does."""
        for found in self.beginnings(block.line + 1, self.indentation(block.line)):
            if found.word == "end":
                return None
            end = found.indentation + 1 + len(found.word)
            return Span(block.file, found.line, found.indentation + 1, found.line, end)
        return None

    def text(self, line: int) -> str:
        return self._lines[line - 1] if 0 < line <= len(self._lines) else ""

    def indentation(self, line: int) -> int:
        text = self.text(line)
        return len(text) - len(text.lstrip(" \t"))

    def beginning(self, line: int) -> Beginning | None:
        """The statement that begins on this line, if it looks like one."""
        found = _BEGINS.match(self.text(line))
        if found is None:
            return None
        indentation = len(found[1])
        word = found[2] or found[3]
        return Beginning(line, self._starts[line - 1] + indentation, indentation, word)

    def beginnings(self, line: int, indentation: int) -> Iterator[Beginning]:
        """Those from a line on that are not indented deeper than `indentation`."""
        for number in range(line, len(self._lines) + 1):
            found = self.beginning(number)
            if found is not None and found.indentation <= indentation:
                yield found
