"""The formatter: one canonical layout for every source, with all its comments."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.syntax.document import Doc, Nest, Printer, flat, with_remarks
from verifier.syntax.layout_statements import CONTINUED, ElementPart, declared, statement
from verifier.syntax.tree import (
    Assembly,
    Comment,
    ElementItem,
    Kind,
    KindItem,
    Source,
    Statement,
)

STEP = 2
WIDEST_HEAD = 28  # longer ones do not push the colons of their neighbours out

Item = Statement | KindItem | ElementPart
Block = Assembly | Kind | ElementItem


class _Entry(Struct):
    """A statement or a comment on a line of its own, with the comments that belong to it."""

    what: Item | Comment
    within: list[Comment]
    trailing: Comment | None = None
    padding: int = 0  # columns that the part before the colon is filled up to

    def lines(self) -> tuple[int, int]:
        return self.what.span.line, self.what.span.end_line


def layout(source: Source) -> str:
    """The text of `source` in the canonical layout.

    Parsing it again gives the same tree, spans left out, and the same comments in the same order.
    Laying it out again changes nothing.
    """
    lines = _section(source.statements, source.comments, 0, None)
    return "".join(line + "\n" for line in lines)


def _section(
    items: Sequence[Item], comments: Sequence[Comment], indentation: int, block: Block | None
) -> list[str]:
    """The lines of a list of statements and the comments among them; `block` holds them, if any."""
    entries = _entries(items, comments)
    if block is None or isinstance(block, Assembly):
        _align(entries)
    out: list[str] = []
    for index, entry in enumerate(entries):
        if index and _blank_between(entries[index - 1], entry, block is None):
            out.append("")
        out += _printed(entry, indentation, isinstance(block, Kind))
    return out


def _entries(items: Sequence[Item], comments: Sequence[Comment]) -> list[_Entry]:
    """Statements and comments in order; comments inside and behind belong to their statement."""
    out: list[_Entry] = []
    taken = 0

    def take(before: tuple[int, int]) -> list[Comment]:
        nonlocal taken
        first = taken
        while taken < len(comments) and _start(comments[taken]) < before:
            taken += 1
        return list(comments[first:taken])

    def place(found: Sequence[Comment]) -> None:
        for comment in found:
            last = out[-1] if out else None
            if (
                last is not None
                and not isinstance(last.what, Comment)
                and last.trailing is None
                and not comment.own_line
                and last.what.span.end_line == comment.span.line
            ):
                last.trailing = comment
            else:
                out.append(_Entry(comment, []))

    for item in items:
        place(take(_start(item)))
        out.append(_Entry(item, take((item.span.end_line, item.span.end_column))))
    place(comments[taken:])
    return out


def _start(what: Item | Comment) -> tuple[int, int]:
    return what.span.line, what.span.column


def _blank_between(before: _Entry, after: _Entry, top: bool) -> bool:
    """One blank line where the source has any, and around the kinds and assemblies of a file."""
    if after.lines()[0] - before.lines()[1] > 1:
        return True
    if not top or isinstance(before.what, Comment):
        return False
    return isinstance(before.what, Kind | Assembly) or isinstance(after.what, Kind | Assembly)


def _align(entries: Sequence[_Entry]) -> None:
    """Set the colons of neighbouring statements of one sort below each other."""
    run: list[tuple[_Entry, int]] = []

    def close() -> None:
        widest = max((width for _, width in run), default=0)
        for entry, _ in run:
            entry.padding = widest
        run.clear()

    for index, entry in enumerate(entries):
        head = None if isinstance(entry.what, Comment) else declared(entry.what)
        width = len(flat(head[0])) if head is not None and not entry.within else 0
        previous = entries[index - 1] if index else None
        if run and (
            previous is None
            or type(run[0][0].what) is not type(entry.what)
            or _blank_between(previous, entry, False)
        ):
            close()
        if 0 < width <= WIDEST_HEAD:
            run.append((entry, width))
    close()


def _printed(entry: _Entry, indentation: int, in_kind: bool) -> list[str]:
    what = entry.what
    if isinstance(what, Comment):
        return [" " * indentation + f"#{what.text}"]
    if isinstance(what, Assembly | Kind | ElementItem):
        return _block(what, entry, indentation)
    doc = statement(what)
    pair = declared(what)
    if pair is not None and in_kind:
        doc = Nest(CONTINUED, [pair[0], ": ", pair[1]])
    elif pair is not None and not entry.within:
        head = flat(pair[0])
        doc = Nest(CONTINUED, [head.ljust(entry.padding), " : ", pair[1]])
    return _print(doc, entry.within, entry.trailing, indentation)


def _print(
    doc: Doc, within: Sequence[Comment], trailing: Comment | None, indentation: int
) -> list[str]:
    before, doc = with_remarks(doc, within) if within else ([], doc)
    printer = Printer(indentation)
    printer.emit(doc, 0)
    lines = [" " * indentation + f"#{comment.text}" for comment in before] + printer.lines
    if trailing is not None:
        if printer.commented:
            lines.append(" " * indentation + f"#{trailing.text}")
        else:
            lines[-1] += f"  #{trailing.text}"
    return [line.rstrip(" ") for line in lines]


def _block(block: Block, entry: _Entry, indentation: int) -> list[str]:
    """The first line, the items indented below it, and `end` where the block has one."""
    within = list(entry.within)
    heading_remark: Comment | None = None
    if isinstance(block, ElementItem) and entry.trailing is not None:
        # An element ends where its last item does: the comment is that item's.
        within.append(entry.trailing)
    ends = not isinstance(block, ElementItem)
    first = _start(block.items[0]) if block.items else (block.span.end_line, block.span.end_column)
    if within and not within[0].own_line and _start(within[0]) < first:
        heading_remark = within.pop(0)
    if not ends and not block.items:
        # An element without items ends where its first line does.
        return _print(statement(block), entry.within, entry.trailing, indentation)
    lines = _print(statement(block), (), heading_remark, indentation)
    lines += _section(block.items, within, indentation + STEP, block)
    return lines + _print("end", (), entry.trailing, indentation) if ends else lines
