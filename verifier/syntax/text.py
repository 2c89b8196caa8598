"""From bytes to the text that is parsed, and what is checked before any parsing."""

from __future__ import annotations

import codecs
import re
import unicodedata

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.limits import Limits, exceeded
from verifier.diagnostics.span import Span
from verifier.syntax.tree import Comment

MOST_SHOWN = 20

# Controls, line breaks that editors show and the language does not count, marks that make a reader
# see the text in another order than it has, and halves of surrogate pairs.
_UNFIT = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069"
    "\u200e\u200f\u061c\ud800-\udfff]"
)
_QUOTED_OR_COMMENT = re.compile(r'"(?:[^"\\\n]|\\.)*"|#[^\n]*')


def decode(data: bytes, path: str) -> str:
    """The text of a source file; raises SourceError unless it is UTF-8 without NUL bytes.

    A byte-order mark is dropped and line ends become single line feeds.
    """
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        _refuse(
            path, "", 1, 1, "E0101", "the file is not UTF-8 text", "save it as UTF-8, not UTF-16"
        )
    if data.startswith(codecs.BOM_UTF8):
        data = data[len(codecs.BOM_UTF8) :]
    nul = data.find(b"\x00")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as problem:
        bad = problem.start if nul < 0 else min(problem.start, nul)
        if bad != nul:
            sound = data[:bad].decode("utf-8")
            message = f"byte {data[bad]:#04x} is no UTF-8 text"
            shown = data.decode("utf-8", errors="replace")
            line, column = _place(sound, len(sound))
            _refuse(path, shown, line, column, "E0101", message, "save the file as UTF-8")
    if nul >= 0:
        sound = data[:nul].decode("utf-8")
        line, column = _place(sound, len(sound))
        shown = data.decode("utf-8", errors="replace")
        hint = "is this a design at all, and not some other kind of file?"
        _refuse(path, shown, line, column, "E0102", "a NUL byte", hint)
    return text.replace("\r\n", "\n")


def _place(text: str, at: int) -> tuple[int, int]:
    """Line and column, from 1, of the character at an offset."""
    return text.count("\n", 0, at) + 1, at - (text.rfind("\n", 0, at) + 1) + 1


def _refuse(
    path: str, text: str, line: int, column: int, code: str, message: str, hint: str
) -> None:
    span = Span(path, line, column, line, column + 1)
    raise SourceError((Diagnostic(span, code, message, (), hint),), {path: text})


def check_text(text: str, path: str, limits: Limits) -> None:
    """Raise SourceError for characters that no source may hold, LimitError for too much text."""
    problems: list[Diagnostic] = []
    for found in _UNFIT.finditer(text):
        line, column = _place(text, found.start())
        name = unicodedata.name(found[0], "a control character").lower()
        problems.append(
            Diagnostic(
                Span(path, line, column, line, column + 1),
                "E0102",
                f"a character that cannot be seen: U+{ord(found[0]):04X}, {name}",
                hint="take it out",
            )
        )
        if len(problems) == MOST_SHOWN:
            break
    if problems:
        raise SourceError(tuple(problems), {path: text})
    if len(text) > limits.max_bytes or len(text.encode("utf-8")) > limits.max_bytes:
        raise exceeded(limits, "max_bytes", path, "bytes")
    for number, line_text in enumerate(text.split("\n"), start=1):
        if len(line_text) > limits.max_line_length:
            raise exceeded(limits, "max_line_length", f"{path}:{number}", "characters in a line")


def comments_of(text: str, path: str) -> tuple[Comment, ...]:
    """All comments, in order. Quoted texts are recognised so that a hash within one is none.

    A scan of its own, so that the cached parser keeps no state from one file to the next.
    """
    found: list[Comment] = []
    line, line_start, at = 1, 0, 0
    for match in _QUOTED_OR_COMMENT.finditer(text):
        if match[0][0] != "#":
            continue
        line += text.count("\n", at, match.start())
        at = match.start()
        line_start = text.rfind("\n", 0, at) + 1
        column = at - line_start + 1
        own_line = not text[line_start:at].strip()
        span = Span(path, line, column, line, column + len(match[0]))
        found.append(Comment(match[0][1:].rstrip(), own_line, span))
    return tuple(found)
