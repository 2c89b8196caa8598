"""A small printer: pieces of text with places where a line may break, filled to a width."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from verifier.syntax.tree import Comment

WIDTH = 100


class Soft(Struct, frozen=True):
    """A space, or a line break where the line gets too long."""


class Hard(Struct, frozen=True):
    """A line break."""


class Mark(Struct, frozen=True):
    """Where a piece of the source begins: comments from before that place are printed before it."""

    place: tuple[int, int]


class Remark(Struct, frozen=True):
    """A comment; the line breaks after it."""

    comment: Comment


class Nest(Struct, frozen=True):
    """Lines that break in here are indented deeper."""

    by: int
    of: Doc


class Group(Struct, frozen=True):
    """Either no Soft directly within breaks, or all do."""

    of: Doc


Doc = str | Soft | Hard | Mark | Remark | Nest | Group | Sequence["Doc"]

SOFT, HARD = Soft(), Hard()
_ENDLESS = 10**9


def joined(parts: Iterable[Doc], separator: Doc) -> list[Doc]:
    out: list[Doc] = []
    for part in parts:
        if out:
            out.append(separator)
        out.append(part)
    return out


def commas(parts: Iterable[Doc]) -> list[Doc]:
    """A list whose lines break after commas."""
    return joined(parts, [",", SOFT])


def flat(doc: Doc) -> str:
    """The text on one line, for pieces without comments."""
    printer = Printer(0, _ENDLESS)
    printer.emit(doc, 0)
    return "".join(printer.lines)


def with_remarks(doc: Doc, comments: Sequence[Comment]) -> tuple[list[Comment], Doc]:
    """The document with each comment before the first mark that lies behind it.

    Comments behind all marks go before the last word, so that they stay inside the statement;
    if the document is one piece, they are given back to be put before it.
    """
    waiting = list(comments)
    placed = _at_marks(doc, waiting)
    if not waiting:
        return [], placed
    if sum(1 for _ in _words(placed)) < 2:
        return waiting, placed
    return [], _before_last_word(placed, [Remark(comment) for comment in waiting])


def _at_marks(doc: Doc, waiting: list[Comment]) -> Doc:
    if isinstance(doc, Mark):
        passed: list[Doc] = []
        while waiting and (waiting[0].span.line, waiting[0].span.column) < doc.place:
            passed.append(Remark(waiting.pop(0)))
        return passed
    if isinstance(doc, Nest):
        return Nest(doc.by, _at_marks(doc.of, waiting))
    if isinstance(doc, Group):
        return Group(_at_marks(doc.of, waiting))
    if isinstance(doc, list | tuple):
        return [_at_marks(part, waiting) for part in doc]
    return doc


def _words(doc: Doc) -> Iterator[str]:
    if isinstance(doc, str):
        if doc:
            yield doc
    elif isinstance(doc, Nest | Group):
        yield from _words(doc.of)
    elif isinstance(doc, list | tuple):
        for part in doc:
            yield from _words(part)


def _before_last_word(doc: Doc, remarks: list[Doc]) -> Doc:
    if isinstance(doc, str):
        return [*remarks, doc]
    if isinstance(doc, Nest):
        return Nest(doc.by, _before_last_word(doc.of, remarks))
    if isinstance(doc, Group):
        return Group(_before_last_word(doc.of, remarks))
    if isinstance(doc, list | tuple):
        parts = list(doc)
        last = max(i for i, part in enumerate(parts) if next(_words(part), None) is not None)
        parts[last] = _before_last_word(parts[last], remarks)
        return parts
    return doc


def _width(doc: Doc) -> int:
    """Columns on one line; endless if a line break is certain."""
    if isinstance(doc, str):
        return len(doc)
    if isinstance(doc, Soft):
        return 1
    if isinstance(doc, Hard | Remark):
        return _ENDLESS
    if isinstance(doc, Mark):
        return 0
    if isinstance(doc, Nest | Group):
        return _width(doc.of)
    return min(_ENDLESS, sum(map(_width, doc)))


def _reach(parts: Sequence[Doc], first: int, tail: int) -> int:
    """Columns from a part up to where the line may next break; `tail` comes after the parts."""
    total = 0
    for index in range(first, len(parts)):
        before, ends = _until_break(parts[index])
        total += before
        if ends:
            return total
    return total + tail


def _until_break(doc: Doc) -> tuple[int, bool]:
    if isinstance(doc, Soft | Hard | Remark):
        return 0, True
    if isinstance(doc, Nest):
        return _until_break(doc.of)
    if isinstance(doc, str | Mark | Group):
        return _width(doc), False
    total = 0
    for part in doc:
        before, ends = _until_break(part)
        total += before
        if ends:
            return total, True
    return total, False


class Printer:
    """Fills lines; Softs outside of groups break one by one, each only where it must.

    A line is broken only when text follows, so that a comment can still end it.
    """

    def __init__(self, indentation: int, width: int = WIDTH) -> None:
        self.width = width
        self.indentation = indentation
        self.lines: list[str] = [" " * indentation]
        self.breaks = False  # the next text begins a new line
        self.commented = False  # the last line ends with a comment

    def emit(self, doc: Doc, tail: int, breaking: bool = False) -> None:
        """Print; `tail` columns follow without a break. breaking: every Soft here breaks."""
        if isinstance(doc, str):
            self._text(doc)
        elif isinstance(doc, Hard):
            self.breaks = True
        elif isinstance(doc, Soft):
            self._soft(tail, breaking)
        elif isinstance(doc, Remark):
            self._remark(doc.comment)
        elif isinstance(doc, Nest):
            self.indentation += doc.by
            self.emit(doc.of, tail, breaking)
            self.indentation -= doc.by
        elif isinstance(doc, Group):
            self.emit(doc.of, tail, self._column() + _width(doc.of) + tail > self.width)
        elif isinstance(doc, list | tuple):
            for index, part in enumerate(doc):
                self.emit(part, _reach(doc, index + 1, tail), breaking)

    def _column(self) -> int:
        return self.indentation if self.breaks else len(self.lines[-1])

    def _text(self, text: str) -> None:
        if self.breaks and text:
            self._new_line()
            text = text.lstrip(" ")
        self.lines[-1] += text

    def _new_line(self) -> None:
        self.breaks = self.commented = False
        self.lines[-1] = self.lines[-1].rstrip(" ")
        self.lines.append(" " * self.indentation)

    def _soft(self, reach: int, breaking: bool) -> None:
        if breaking or len(self.lines[-1]) + 1 + reach > self.width:
            self.breaks = True
        elif not self.breaks:
            self.lines[-1] += " "

    def _remark(self, comment: Comment) -> None:
        empty = not self.lines[-1].strip()
        if self.commented or (comment.own_line and not empty):
            self._new_line()
        elif not empty:
            self.lines[-1] = self.lines[-1].rstrip(" ") + "  "
        self.lines[-1] += f"#{comment.text}"
        self.breaks = self.commented = True
