"""From the place where the parser stopped to a mistake in the words of the trade."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.span import Span
from verifier.diagnostics.suggest import did_you_mean
from verifier.syntax.failure import Failure, after, described
from verifier.syntax.lexeme import Lexeme
from verifier.syntax.recover import ASSEMBLY_ITEMS, ELEMENT_ITEMS, KIND_ITEMS, OPENERS, TOP

Related = tuple[tuple[Span, str], ...]

PROPERTIES = ("never", "always", "possible", "order", "recovers")
EXAMPLES = {
    "line": "a line needs a colon after its name: line air : tractor, master.1",
    "part": "a part needs a colon between its name and its kind: part stop : push_button_3_2",
    "surroundings": "a colon stands before the values: surroundings hose : free, coupled",
    "tube": "a colon stands before what is said of the tube: tube lift at foot.12 : length 3 m",
    "port": "a colon stands before what the port stands for: port supply : master.1",
    "element": "a colon stands before the positions: element spool : home, drawn",
    "means": "a colon stands between the word and what it means: means open : spool is out",
    "fault": "a colon stands before what the fault does: fault sticks : spool stays",
}
PROPERTY_EXAMPLE = 'a property is written: never "what must not be": condition'
NO_UNIT = "the unit is missing"
UNIT_EXAMPLE = "write for example 3 m or 4 mm"
FOREIGN = {
    "'": 'texts stand between double quotes: "like this"',
    "“": 'texts stand between straight double quotes: "like this"',
    "”": 'texts stand between straight double quotes: "like this"',
    "„": 'texts stand between straight double quotes: "like this"',
    ";": "a statement ends by itself: take the semicolon out",
    "{": "indices stand in [ ], conditions in ( ), and a block ends with the word `end`",
    "}": "indices stand in [ ], conditions in ( ), and a block ends with the word `end`",
    "–": "write the plain hyphen `-`",  # noqa: RUF001
    "—": "write the plain hyphen `-`",
    "−": "write the plain hyphen `-`",  # noqa: RUF001
    "→": "write `>` for a passage in one direction",
    "&": "write the word `and`",
    "|": "write the word `or`",
    "!": "write the word `not`, or `<>` for unequal numbers",
    "/": "a remark begins with `#`; a number may be written 5/2",
    "\\": "in paths write `/`",
    "\u00a0": "this is a no-break space: write a plain one",
}


def explain(failure: Failure) -> Diagnostic:
    """The mistake that best accounts for the place where the parser stopped."""
    for check in _CHECKS:
        found = check(failure)
        if found is not None:
            return found
    hint = described(failure.accepts)
    return Diagnostic(failure.span(), "E0117", f"{failure.shown()} cannot stand here", (), hint)


def too_many(failure: Failure) -> Diagnostic:
    """Said in place of further mistakes."""
    message = "too many mistakes; what follows was not read"
    return Diagnostic(
        failure.span(), "E0123", message, (), "put the first ones right and try again"
    )


def _foreign_character(failure: Failure) -> Diagnostic | None:
    if failure.lexeme is None or failure.lexeme.sort != "CHAR":
        return None
    sign, span = failure.lexeme.text, failure.lexeme.span
    if sign == '"':
        line = failure.lines.text(span.line)
        shown = Span(span.file, span.line, span.column, span.line, len(line) + 1)
        hint = "a quoted text begins and ends on one line"
        return Diagnostic(shown, "E0103", "the quotes opened here are not closed", (), hint)
    name = unicodedata.name(sign, "a character without a name").lower()
    shown_sign = f"`{sign}`" if sign.isprintable() and not sign.isspace() else f"U+{ord(sign):04X}"
    message = f"{shown_sign} ({name}) is not a sign of the language"
    hint = FOREIGN.get(
        sign, "outside quoted texts and remarks only letters, digits and a few signs stand"
    )
    return Diagnostic(span, "E0105", message, (), hint)


def _next_statement(failure: Failure) -> Diagnostic | None:
    """The file ends, or the next line begins another statement, where one was not complete."""
    if failure.lexeme is None:
        if failure.block is not None and "end" in failure.accepts:
            return _without_end(failure)
        return _unfinished(failure)
    beginning = failure.interrupted_by()
    if beginning is None:
        return None
    if beginning.start != failure.offset() or not failure.complete():
        return _unfinished(failure)
    return _misplaced(failure)


def _unfinished(failure: Failure) -> Diagnostic:
    bracket = failure.open_bracket()
    if bracket is not None:
        return _unclosed(failure, bracket)
    opener = failure.statement or failure.block
    what = f"this `{opener.text}` statement" if opener else "this statement"
    missing = failure.missing()
    hint = described(missing) if missing else ""
    previous = failure.last_of_statement()
    if previous is None:
        return Diagnostic(failure.span(), "E0110", f"{what} is not finished", (), hint)
    if opener and opener.text == "tube" and previous.sort in ("INT", "DECIMAL"):
        return Diagnostic(after(previous), "E0120", NO_UNIT, (), UNIT_EXAMPLE)
    message = f"{what} is not finished: something is missing after `{previous.text}`"
    return Diagnostic(after(previous), "E0110", message, (), hint)


def _without_end(failure: Failure) -> Diagnostic:
    block = failure.block
    assert block is not None
    where = failure.lines.outdented_after(block.span)
    related: Related = ()
    if where is not None:
        related = ((where, "perhaps it was meant to end before this line"),)
    message = f"this {block.text} has no `end`"
    hint = f"every {block.text} closes with the word `end` on a line of its own"
    return Diagnostic(block.span, "E0108", message, related, hint)


def _misplaced(failure: Failure) -> Diagnostic | None:
    """A keyword at the start of a line, where statements stand but not this one."""
    lexeme = failure.lexeme
    assert lexeme is not None
    word, block = lexeme.text, failure.block
    if word == "end":
        return Diagnostic(lexeme.span, "E0109", "`end` without an assembly or kind that is open")
    if block is not None and word in TOP and lexeme.span.column <= failure.lines.column(block.span):
        return _without_end(failure)
    related = ((block.span, f"this {block.text} is open here"),) if block is not None else ()
    message = f"a `{word}` statement cannot stand here"
    return Diagnostic(lexeme.span, "E0116", message, related, f"it stands {_home(word)}")


def _home(word: str) -> str:
    homes = [
        (TOP, "outside of assemblies and kinds"),
        (ASSEMBLY_ITEMS, "in an assembly"),
        (KIND_ITEMS, "in a kind"),
        (ELEMENT_ITEMS, "after the positions of an element"),
    ]
    return " or ".join(where for words, where in homes if word in words)


def _unclosed(failure: Failure, bracket: Lexeme) -> Diagnostic:
    related: Related = ()
    if failure.lexeme is not None:
        related = ((failure.lexeme.span, f"here {failure.shown()} stands instead"),)
    closer = ")" if bracket.text == "(" else "]"
    message = f"the bracket `{bracket.text}` opened here is not closed"
    return Diagnostic(bracket.span, "E0112", message, related, f"`{closer}` is missing")


def _brackets(failure: Failure) -> Diagnostic | None:
    lexeme, bracket = failure.lexeme, failure.open_bracket()
    assert lexeme is not None
    if lexeme.text in (")", "]") and (
        bracket is None or (bracket.text == "(") != (lexeme.text == ")")
    ):
        if bracket is not None:
            return _unclosed(failure, bracket)
        return Diagnostic(
            lexeme.span, "E0112", f"`{lexeme.text}` closes a bracket that is not open"
        )
    closable = bracket is not None and (")" if bracket.text == "(" else "]") in failure.accepts
    if bracket is not None and closable and lexeme.sort not in ("NAME", "INT", "DECIMAL", "STRING"):
        return _unclosed(failure, bracket)
    return None


def _colon(failure: Failure) -> Diagnostic | None:
    if ":" not in failure.accepts or failure.lexeme is None:
        return None
    word = failure.statement.text if failure.statement else ""
    hint = EXAMPLES.get(word, PROPERTY_EXAMPLE if word in PROPERTIES else "")
    where = f" before {failure.shown()}"
    if failure.lexeme.text in ("=", ".", ">"):
        where = f", where {failure.shown()} stands"
    return failure.missing_here("E0107", f"a colon is missing{where}", hint)


def _unknown_statement(failure: Failure) -> Diagnostic | None:
    lexeme = failure.lexeme
    assert lexeme is not None
    if not (failure.complete() and failure.first_on_line() and lexeme.sort == "NAME"):
        return None
    if not failure.at_or_left_of_statement():
        return None
    words = [word for word in (*OPENERS, "end") if word in failure.accepts]
    hint = did_you_mean(lexeme.text, words)
    message = f"no statement begins with `{lexeme.text}`"
    if not hint and lexeme.text in OPENERS:
        hint = f"a `{lexeme.text}` statement stands {_home(lexeme.text)}"
    return Diagnostic(lexeme.span, "E0106", message, (), hint)


def _quoted(failure: Failure) -> Diagnostic | None:
    if "STRING" not in failure.accepts or failure.complete() or "NAME" in failure.accepts:
        return None
    word = failure.statement.text if failure.statement else ""
    hint = "a text stands between double quotes"
    if word in PROPERTIES:
        hint = PROPERTY_EXAMPLE
    elif word == "assume":
        hint = 'an assumption is written: assume "name" because "reason": never condition'
    return failure.missing_here(
        "E0115", f"a text in quotes is missing before {failure.shown()}", hint
    )


def _number(failure: Failure) -> Diagnostic | None:
    lexeme, previous = failure.lexeme, failure.previous()
    assert lexeme is not None
    if "DECIMAL" in failure.accepts and lexeme.text == ".":
        hint = "a number begins with a digit: 0.5"
        return Diagnostic(lexeme.span, "E0113", "a number cannot begin with a point", (), hint)
    if previous is None or previous.sort not in ("INT", "DECIMAL"):
        return None
    if lexeme.text in (",", ".") and failure.touching() and failure.digit_follows():
        span = Span(
            previous.span.file,
            previous.span.line,
            previous.span.column,
            lexeme.span.end_line,
            lexeme.span.end_column,
        )
        if lexeme.text == "," and "NAME" in failure.accepts:
            return Diagnostic(span, "E0113", "a number with a comma", (), "write a point: 2.5")
        if lexeme.text == "." and "NAME" in failure.accepts:
            return Diagnostic(span, "E0113", "a number with more than one point")
    if "NAME" in failure.accepts and failure.wants_unit():
        return failure.missing_here("E0120", NO_UNIT, UNIT_EXAMPLE)
    return None


def _misspelt(failure: Failure) -> Diagnostic | None:
    """A name where a keyword that resembles it could stand."""
    lexeme = failure.lexeme
    assert lexeme is not None
    if lexeme.sort != "NAME" or "NAME" in failure.accepts:
        return None
    words = [word for word in sorted(failure.accepts) if word.islower() and word.isalpha()]
    hint = did_you_mean(lexeme.text, words)
    if not hint:
        return None
    return Diagnostic(lexeme.span, "E0117", f"{failure.shown()} cannot stand here", (), hint)


def _name(failure: Failure) -> Diagnostic | None:
    lexeme = failure.lexeme
    assert lexeme is not None
    if "NAME" not in failure.accepts or "not" in failure.accepts or lexeme.sort == "NAME":
        return None
    if lexeme.sort == "INT" and "INT" not in failure.accepts:
        message = f"a name cannot begin with a digit: `{lexeme.text}`"
        return Diagnostic(lexeme.span, "E0114", message, (), "names begin with a letter")
    return failure.missing_here("E0114", f"a name is missing before {failure.shown()}", "")


def _comma(failure: Failure) -> Diagnostic | None:
    lexeme = failure.lexeme
    assert lexeme is not None
    if "," not in failure.accepts or lexeme.sort not in ("NAME", "INT"):
        return None
    if "is" in failure.accepts or "then" in failure.accepts:
        return None
    return failure.missing_here("E0111", f"a comma is missing before {failure.shown()}", "")


def _required_word(failure: Failure) -> Diagnostic | None:
    required = failure.missing()
    if "then" in required:
        required = frozenset(["then"])
    if len(required) != 1:
        return None
    (word,) = required
    if not word.isalpha() or word.isupper():
        return None
    hint = "a condition on a position is written: X is POSITION" if word == "is" else ""
    return failure.missing_here(
        "E0122", f"the word `{word}` is missing before {failure.shown()}", hint
    )


_CHECKS: tuple[Callable[[Failure], Diagnostic | None], ...] = (
    _foreign_character,
    _next_statement,
    _brackets,
    _colon,
    _unknown_statement,
    _quoted,
    _number,
    _misspelt,
    _name,
    _comma,
    _required_word,
)
