"""Fenced blocks of the language in a Markdown file."""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct

_FENCE = re.compile(r"^```(\w*)[ ]?(.*?)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


class Block(Struct, frozen=True):
    """`line`: where the text begins. `mark`: what stands after `ilk`, `codes` those it names."""

    line: int
    mark: str
    codes: tuple[str, ...]
    text: str


def ilk_blocks(markdown: str) -> Iterator[Block]:
    for match in _FENCE.finditer(markdown):
        language, rest, text = match.groups()
        if language == "ilk":
            mark, *codes = [*rest.split(), ""][: max(1, len(rest.split()))]
            line = markdown.count("\n", 0, match.start(3)) + 1
            yield Block(line, mark, tuple(codes), text)
