"""What is known about the place where the parser stopped."""

from __future__ import annotations

from msgspec import Struct

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.span import Span
from verifier.syntax.lexeme import Lexeme
from verifier.syntax.recover import Beginning, Lines

SORTS = {"NAME": "a name", "INT": "a number", "STRING": "a text in quotes"}
MOST_LISTED = 6
LONGEST_SHOWN = 40

# What may follow a finished piece without being needed there.
_OPTIONAL = frozenset(
    (".", "[", "(", ",", "+", "-", "*", "and", "or", "<", "..", "DECIMAL", "$END")
)


class Failure(Struct, frozen=True):
    """lexeme: what cannot stand there, None at the end of the file.

    accepts: what could have stood there, as written, or NAME, INT, DECIMAL, STRING, $END.
    before: the words of the statement so far, its keyword first.
    statement, block: the keywords of the statement and of the assembly or kind not yet complete.
    """

    path: str
    lines: Lines
    lexeme: Lexeme | None
    accepts: frozenset[str]
    before: list[Lexeme]
    statement: Lexeme | None
    block: Lexeme | None

    def previous(self) -> Lexeme | None:
        return self.before[-1] if self.before else None

    def span(self) -> Span:
        """Of what cannot stand there; at the end of the file, of the place after the last word."""
        if self.lexeme is not None:
            return self.lexeme.span
        previous = self.previous()
        if previous is not None:
            return after(previous)
        return Span(self.path, 1, 1, 1, 2)

    def shown(self) -> str:
        """What cannot stand there, for a sentence."""
        if self.lexeme is None:
            return "the end of the file"
        text = self.lexeme.text
        if len(text) > LONGEST_SHOWN:
            text = text[:LONGEST_SHOWN] + "…"
        return text if self.lexeme.sort == "STRING" else f"`{text}`"

    def offset(self) -> int:
        assert self.lexeme is not None
        return self.lines.offset(self.lexeme.span)

    def first_on_line(self) -> bool:
        span = self.span()
        return self.lines.indentation(span.line) + 1 == span.column

    def complete(self) -> bool:
        """Whether the statement could have ended here."""
        return "$END" in self.accepts or "end" in self.accepts

    def interrupted_by(self) -> Beginning | None:
        """The beginning of a statement on this line, other than the one being read."""
        if self.lexeme is None:
            return None
        line = self.span().line
        found = self.lines.beginning(line)
        if found is None or (
            self.statement and self.lines.offset(self.statement.span) == found.start
        ):
            return None
        if self.block and self.lines.offset(self.block.span) == found.start:
            return None
        return found if found.indentation <= self.indentation() else None

    def at_or_left_of_statement(self) -> bool:
        """Not indented deeper than the statement being read, so no continuation of it."""
        if self.statement is None or self.statement.text == "element":
            return True
        return self.lines.indentation(self.span().line) <= self.indentation()

    def indentation(self) -> int:
        """Of the statement being read; between statements, of this line."""
        statement = self.statement
        if statement is None or (statement.text == "element" and self.first_on_line()):
            return self.lines.indentation(self.span().line)
        return self.lines.indentation(statement.span.line)

    def resume_line(self) -> int:
        """The first line at which the next statement may begin."""
        line = self.span().line
        if self.lexeme is None:
            return len(self.lines) + 1
        found = self.interrupted_by()
        return line + 1 if found is None else line

    def last_of_statement(self) -> Lexeme | None:
        """The last word before the line that begins another statement."""
        beginning = self.interrupted_by()
        words = self.before
        if beginning is not None:
            words = [word for word in words if word.span.line < beginning.line]
        return words[-1] if words else None

    def open_bracket(self) -> Lexeme | None:
        """The innermost bracket of the statement that is not yet closed."""
        waiting: list[Lexeme] = []
        for lexeme in self.before:
            if lexeme.text in ("(", "["):
                waiting.append(lexeme)
            elif lexeme.text in (")", "]") and waiting:
                waiting.pop()
        return waiting[-1] if waiting else None

    def missing(self) -> frozenset[str]:
        """Of what could have stood there, what is not merely allowed to follow."""
        return self.accepts - _OPTIONAL

    def touching(self) -> bool:
        """Whether no space stands between the last word and this one."""
        previous = self.previous()
        assert previous is not None
        assert self.lexeme is not None
        end = (previous.span.end_line, previous.span.end_column)
        return end == (self.lexeme.span.line, self.lexeme.span.column)

    def digit_follows(self) -> bool:
        span = self.span()
        return self.lines.text(span.line)[span.end_column - 1 : span.end_column].isdigit()

    def wants_unit(self) -> bool:
        """Whether the last number is a quantity: only there a name may follow a number at once."""
        return self.accepts <= {"NAME", "/"}

    def missing_here(self, code: str, message: str, hint: str) -> Diagnostic:
        """A mistake shown right after the last word, where something should have stood."""
        previous = self.previous()
        span = after(previous) if previous is not None else self.span()
        return Diagnostic(span, code, message, (), hint)


def after(lexeme: Lexeme) -> Span:
    """The place right after a word."""
    span = lexeme.span
    return Span(span.file, span.end_line, span.end_column, span.end_line, span.end_column + 1)


def described(accepts: frozenset[str]) -> str:
    """What could have stood there, as a hint; empty if that is too much to list."""
    words = [SORTS[sort] for sort in SORTS if sort in accepts]
    words += [f"`{word}`" for word in sorted(accepts) if word not in SORTS and not word.isupper()]
    words = [word for word in words if word != "`$END`"]
    if not words or len(words) > MOST_LISTED:
        return ""
    if len(words) == 1:
        return f"{words[0]} can stand here"
    return f"{', '.join(words[:-1])} or {words[-1]} can stand here"
