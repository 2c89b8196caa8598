"""The shipped catalogue: which kinds it has, and the text of just those that a design names.

Reading the whole catalogue takes longer than elaborating a design; its kinds are independent of
each other, so the blocks that are not wanted are left blank, which keeps every line number.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from msgspec import Struct

from verifier.diagnostics.limits import Limits
from verifier.diagnostics.span import Span
from verifier.model.reading import read_text
from verifier.syntax import tree
from verifier.syntax.resources import catalogue_path

CATALOGUES = ("standard",)
SHOWN = "catalogue:standard.ilk"  # no name of a user's file has the colon

_BEGINS = re.compile(r"^kind\s+(\w+)")


class Catalogue(Struct, frozen=True):
    """`blocks` gives, for each kind, its first line and the line after its last (from 1)."""

    shown: str
    text: str
    blocks: dict[str, tuple[int, int]]

    def place(self, kind: str) -> Span:
        """Where the kind begins."""
        line = self.blocks[kind][0]
        return Span(self.shown, line, 1, line, len(f"kind {kind}") + 1)

    def excerpt(self, kinds: Collection[str]) -> str:
        """The text with every other kind left blank."""
        lines = self.text.split("\n")
        kept = [""] * len(lines)
        for name, (first, after) in self.blocks.items():
            if name in kinds:
                kept[first - 1 : after - 1] = lines[first - 1 : after - 1]
        return "\n".join(kept)


def standard_catalogue(limits: Limits) -> Catalogue:
    """The catalogue that `use standard` names; its text is read, not parsed."""
    path = catalogue_path().resolve()
    text = read_text(path, SHOWN, limits)
    lines = text.split("\n")
    begins: list[tuple[str, int]] = []
    for number, line in enumerate(lines, 1):
        match = _BEGINS.match(line)
        if match:
            begins.append((match.group(1), number))
    ends = [*(first for _, first in begins[1:]), len(lines) + 1]
    blocks = {name: (first, end) for (name, first), end in zip(begins, ends, strict=True)}
    return Catalogue(SHOWN, text, blocks)


def kinds_named(statements: Collection[tree.Statement]) -> Iterator[str]:
    """Every name that may be that of a kind: of parts, and of arguments of assemblies."""
    for statement in statements:
        if isinstance(statement, tree.PartStatement):
            yield statement.kind
            for argument in statement.arguments:
                if isinstance(argument.value, tree.Variable):
                    yield argument.value.name
        elif isinstance(statement, tree.Assembly):
            yield from kinds_named(statement.items)
