"""From text to `Source`, with every syntax mistake of the file at once.

The grammar is LALR and a test proves it free of collisions in lark's strict mode; the parser that
runs here comes from the same text without repeating that proof (`verifier.syntax.tables`). Lark is
known to this module, `tables` and `reading` only.
"""

from __future__ import annotations

from typing import Any

from lark import Token, Tree

from verifier.diagnostics.diagnostic import SourceError
from verifier.diagnostics.limits import Limits, exceeded
from verifier.syntax.build import BUILDERS
from verifier.syntax.lexeme import Context
from verifier.syntax.reading import Reading, lexeme
from verifier.syntax.text import check_text, comments_of
from verifier.syntax.tree import Assembly, ElementItem, Kind, Source

_NESTING = frozenset(
    ("negated", "implies", "every", "some", "atom", "factor", "plus", "minus", "times")
)


def parse(text: str, path: str, limits: Limits) -> Source:
    """Parse one file.

    Raises SourceError with all syntax mistakes of the file, sorted by place, or LimitError when the
    file is larger or nested deeper than `limits` allow. Nothing else is raised for any text.
    """
    check_text(text, path, limits)
    reading = Reading(text, path, limits)
    tree = reading.read()
    context = Context(path, reading.problems)
    statements = _build(tree, context, limits) if tree is not None else ()
    if context.problems:
        raise SourceError(tuple(sorted(context.problems)), {path: text})
    _count(statements, path, limits)
    return Source(path, text, statements, comments_of(text, path))


def _build(tree: Tree[Token], context: Context, limits: Limits) -> tuple[Any, ...]:
    """Run the builder of every rule, innermost first, without recursion."""
    path = context.path
    frames: list[tuple[str, Any, list[Any], list[int]]] = [
        (tree.data, iter(tree.children), [], [0])
    ]
    while True:
        rule, children, built, depth = frames[-1]
        for child in children:
            if isinstance(child, Tree):
                frames.append((child.data, iter(child.children), [], [0]))
                break
            built.append(lexeme(child, path))
        else:
            frames.pop()
            if not frames:
                return tuple(built)
            value = BUILDERS[rule](context, built)
            levels = depth[0] + (rule in _NESTING)
            if levels > limits.max_nesting:
                where = f"{path}:{value.span.line}"
                raise exceeded(limits, "max_nesting", where, "levels of nesting")
            frames[-1][2].append(value)
            frames[-1][3][0] = max(frames[-1][3][0], levels)


def _count(statements: tuple[Any, ...], path: str, limits: Limits) -> None:
    count = 0
    for statement in statements:
        count += 1
        if isinstance(statement, Assembly | Kind):
            count += len(statement.items)
            count += sum(len(i.items) for i in statement.items if isinstance(i, ElementItem))
    if count > limits.max_statements:
        raise exceeded(limits, "max_statements", path, "statements")
