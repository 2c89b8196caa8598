"""From the text of a run to a script. Names are not looked at yet."""

from __future__ import annotations

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.limits import Limits, exceeded
from verifier.diagnostics.span import Span
from verifier.diagnostics.suggest import did_you_mean
from verifier.runs.facts import Misread, fact_of
from verifier.runs.script import (
    NOWHERE,
    Begins,
    Does,
    Event,
    Expects,
    Fact,
    Leaks,
    Line,
    Missing,
    Moves,
    PassesOff,
    Script,
    Sets,
    Strikes,
    Swap,
    Waits,
    Works,
    Wrong,
)
from verifier.runs.verbs import RELEASE, SAME, SUPPLY, VERBS
from verifier.runs.words import Words, is_name, joined, unquoted, words_of
from verifier.syntax.text import check_text

SUFFIX = ".run"
MOST_MISTAKES = 50
HEADINGS = ("run", "design", "wrong")
KNOWN = tuple(
    sorted(
        {
            *HEADINGS,
            *("expect", "procedure", "wait", "move", "leak", "strike", "pass", "set", "work"),
            *VERBS.values(),
            *SAME,
            *SUPPLY,
            *(verb.split()[0] for verb in RELEASE),
        }
    )
)
"""The words that lines begin with, after an `and` or without."""


def read_run(text: str, file: str = "text.run", limits: Limits | None = None) -> Script:
    """Raises SourceError with all mistakes, LimitError."""
    bounds = limits or Limits()
    check_text(text, file, bounds)
    reading = _Reading(file)
    lines = text.split("\n")
    for number, line in enumerate(lines, 1):
        words = words_of(line, file, number)
        if words.words or words.strange:
            reading.line(words)
        if len(reading.lines) > bounds.max_statements:
            raise exceeded(bounds, "max_statements", f"{file}:{number}", "lines of a run")
        if len(reading.mistakes) >= MOST_MISTAKES:
            break
    if reading.mistakes:
        raise SourceError(tuple(reading.mistakes), {file: text})
    return reading.script()


def read_line(text: str, file: str = "text.run") -> Line:
    """One line that is no heading. Raises SourceError."""
    return _one(text, file, "E1004").lines[0]


def _one(text: str, file: str, code: str) -> Script:
    script = read_run(text, file)
    if len(script.lines) != 1:
        span = Span(file, 1, 1, 1, max(2, len(text) + 1))
        told = "a heading belongs before a run" if text.strip() else "nothing is said"
        raise SourceError((Diagnostic(span, code, told),), {file: text})
    return script


def read_fact(text: str, file: str = "text.run") -> Fact:
    """What can be seen or measured, as after `expect`. Raises SourceError."""
    words = words_of(text, file, 1)
    try:
        if words.strange:
            raise Misread("E1002", words.span(), "quotes that are not closed")
        return fact_of(words, 0)
    except Misread as mistake:
        raise SourceError((mistake.diagnostic,), {file: text}) from None


class _Reading:
    def __init__(self, file: str) -> None:
        self.file = file
        self.title = ""
        self.design = ""
        self.design_span = NOWHERE
        self.wrong: Wrong | None = None
        self.lines: list[Line] = []
        self.mistakes: list[Diagnostic] = []
        self._seen: dict[str, Span] = {}

    def script(self) -> Script:
        return Script(self.title, self.design, self.wrong, tuple(self.lines), self.design_span)

    def line(self, words: Words) -> None:
        try:
            if words.strange:
                at = Span(words.file, words.number, words.strange, words.number, words.strange + 1)
                raise Misread("E1002", at, "quotes or a bracket that are not closed on their line")
            if words.texts[0] in HEADINGS:
                self._heading(words)
            else:
                self._say(words)
        except Misread as mistake:
            self.mistakes.append(mistake.diagnostic)

    # ---- headings
    def _heading(self, words: Words) -> None:
        word = words.texts[0]
        if self.lines:
            told = f"`{word}` belongs before the first line of a run"
            raise Misread("E1004", words.span(0, 0), told)
        if word in self._seen:
            related = ((self._seen[word], "the first is here"),)
            raise Misread("E1004", words.span(0, 0), f"`{word}` stands twice", related=related)
        self._seen[word] = words.span()
        if word == "run":
            self._title(words)
        elif word == "design":
            self._name(words)
        else:
            self.wrong = Wrong(_wrong(words), words.span())

    def _title(self, words: Words) -> None:
        if len(words.words) != 2 or not words.words[1].quoted:
            hint = 'say it like `run "loading with the master in"`'
            raise Misread("E1002", words.span(), "the title of a run stands in quotes", hint=hint)
        self.title = unquoted(words.texts[1])

    def _name(self, words: Words) -> None:
        if len(words.words) != 2 or not is_name(words.texts[1]):
            raise Misread("E1002", words.span(), "`design` and its name, as the design gives it")
        self.design, self.design_span = words.texts[1], words.span(1)

    # ---- lines
    def _say(self, words: Words) -> None:
        texts = words.texts
        if texts[0] == "expect":
            self.lines.append(Line(Expects(fact_of(words, 1)), span=words.span()))
            return
        if texts == ("procedure",):
            self.lines.append(Line(Begins(), span=words.span()))
            return
        together = texts[0] == "and"
        event = _event(words, 1 if together else 0)
        if together:
            before = self.lines[-1].what if self.lines else None
            if before is None or isinstance(before, Expects | Begins | Waits):
                told = "`and` goes with something that happens in the line before"
                raise Misread("E1003", words.span(0, 0), told)
            if isinstance(event, Waits):
                raise Misread("E1003", words.span(), "nothing else happens while one waits")
        self.lines.append(Line(event, together, words.span()))


def _wrong(words: Words) -> Swap | Missing:
    texts = words.texts
    match texts:
        case (_, one, "and", other, "swapped") if is_name(one) and is_name(other):
            return Swap(one, other)
        case (_, "tube", *rest) if len(rest) > 2 and texts[-2:] == ("left", "off"):
            return Missing(joined(rest[:-2]))
    raise Misread(
        "E1002",
        words.span(),
        "a wrong connection that is not understood",
        hint="say `wrong stop.1 and stop.2 swapped` or `wrong tube lift[1] left off`",
    )


def _event(words: Words, first: int) -> Event:
    texts = words.texts[first:]
    if not texts:
        raise Misread("E1002", words.span(), "something happens after `and`")
    match texts:
        case ("wait",):
            return Waits()
        case ("move", element) if is_name(element):
            return Moves(element, "")
        case ("move", element, "to", position) if is_name(element) and is_name(position):
            return Moves(element, position)
        case ("set", switch, "to", value) if is_name(switch) and is_name(value):
            return Sets(switch, value)
        case ("leak", *volume) if volume:
            return Leaks(joined(volume))
        case ("strike", *fault) if fault:
            return Strikes(joined(fault))
        case ("pass", "off", *fault) if fault:
            return PassesOff(joined(fault))
        case ("work", thing, *label) if is_name(thing) and label:
            return _works(thing, label)
        case ("release", thing, *label) if is_name(thing) and label:
            return Works(thing, "_".join(label), on=False)
    return _does(words, first)


def _works(thing: str, label: list[str]) -> Works:
    briefly = len(label) > 1 and label[-1] == "briefly"
    return Works(thing, "_".join(label[:-1] if briefly else label), briefly)


def _does(words: Words, first: int) -> Does:
    texts = words.texts[first:]
    if texts[0] not in KNOWN or words.words[first].quoted:
        told = f"nothing is known that begins with `{texts[0]}`"
        hint = did_you_mean(texts[0], KNOWN) or "for example `pull PART`, `wait`, `expect PART out`"
        raise Misread("E1001", words.span(first, first), told, hint=hint)
    forms = {
        "wait": "wait",
        "move": "move ELEMENT to POSITION",
        "leak": "leak LINE",
        "strike": "strike FAULT",
        "pass": "pass off FAULT",
        "work": "work PART HAND",
        "procedure": "procedure",
    }
    if texts[0] in forms:
        told = "this line is not finished, or goes on too long"
        raise Misread("E1002", words.span(first), told, hint=f"say `{forms[texts[0]]}`")
    briefly = len(texts) > 2 and texts[-1] == "briefly"
    *verb, thing = texts[:-1] if briefly else texts
    if not verb or not is_name(thing) or not all(one.isalpha() for one in verb):
        told = f"`{texts[0]}`, and the name of what is meant" if not verb else "a name is meant"
        raise Misread("E1002", words.span(first), f"this line is not finished: {told}")
    if verb[0] in ("let", "pass") and len(verb) == 1:
        raise Misread("E1002", words.span(first), "`let go`, and the name of what is meant")
    return Does(" ".join(verb), thing, briefly)
