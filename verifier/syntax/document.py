"""A small printer: pieces of text with places where a line may break, filled to a width."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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


def with_remarks(doc: Doc, comments: Sequence[Comment]) -> Doc:
    """The document with the comments put before the first mark that lies behind each."""
    waiting = list(comments)

    def walk(piece: Doc) -> Doc:
        if isinstance(piece, Mark):
            passed: list[Doc] = []
            while waiting and (waiting[0].span.line, waiting[0].span.column) < piece.place:
                passed.append(Remark(waiting.pop(0)))
            return passed
        if isinstance(piece, Nest):
            return Nest(piece.by, walk(piece.of))
        if isinstance(piece, Group):
            return Group(walk(piece.of))
        if isinstance(piece, list | tuple):
            return [walk(part) for part in piece]
        return piece

    placed = walk(doc)
    return [placed, *(Remark(comment) for comment in waiting)]


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


def _reach(parts: Sequence[Doc], tail: int) -> int:
    """Columns up to the first place where the line may break; `tail` comes after the parts."""
    total = 0
    for part in parts:
        before, ends = _until_break(part)
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
    """Fills lines; Softs outside of groups break one by one, each only where it must."""

    def __init__(self, indentation: int, width: int = WIDTH) -> None:
        self.width = width
        self.indentation = indentation
        self.lines: list[str] = [" " * indentation]
        self.broken = False  # a comment was printed: nothing may follow on its line

    def emit(self, doc: Doc, tail: int, breaking: bool = False) -> None:
        """Print; `tail` columns follow without a break. breaking: every Soft here breaks."""
        if isinstance(doc, str):
            self._text(doc)
        elif isinstance(doc, Hard):
            self._new_line()
        elif isinstance(doc, Remark):
            self._remark(doc.comment)
        elif isinstance(doc, Nest):
            self.indentation += doc.by
            self.emit(doc.of, tail, breaking)
            self.indentation -= doc.by
        elif isinstance(doc, Group):
            self.emit(doc.of, tail, len(self.lines[-1]) + _width(doc.of) + tail > self.width)
        elif isinstance(doc, list | tuple):
            for index, part in enumerate(doc):
                rest = doc[index + 1 :]
                if isinstance(part, Soft):
                    self._soft(_reach(rest, tail), breaking)
                else:
                    self.emit(part, _reach(rest, tail), breaking)
        elif isinstance(doc, Soft):
            self._soft(tail, breaking)

    def _text(self, text: str) -> None:
        if self.broken:
            self._new_line()
        self.lines[-1] += text

    def _new_line(self) -> None:
        self.broken = False
        self.lines[-1] = self.lines[-1].rstrip(" ")
        self.lines.append(" " * self.indentation)

    def _soft(self, reach: int, breaking: bool) -> None:
        if breaking or self.broken or len(self.lines[-1]) + 1 + reach > self.width:
            self._new_line()
        else:
            self.lines[-1] += " "

    def _remark(self, comment: Comment) -> None:
        empty = not self.lines[-1].strip()
        if self.broken or (comment.own_line and not empty):
            self._new_line()
        elif not empty:
            self.lines[-1] = self.lines[-1].rstrip(" ") + "  "
        self.lines[-1] += f"#{comment.text}"
        self.broken = True
