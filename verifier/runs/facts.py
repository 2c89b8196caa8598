"""Facts that can be seen or measured, from words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.span import Span
from verifier.runs.script import Air, Blows, Fact, Flows, Judged, Rests, Stands
from verifier.runs.words import Words, is_name, joined, unquoted

MEDIA: dict[str, Literal["liquid", "vapour"]] = {"flow": "liquid", "vapour": "vapour"}
_FORMS = (
    "say for example `PART out`, `PART not open`, `air in LINE`, `no air at PORT`, "
    "`air blowing out of PORT`, `flow from PLACE to PLACE`, `at rest`"
)


class Misread(Exception):
    """One mistake of a line."""

    def __init__(
        self,
        code: str,
        span: Span,
        message: str,
        *,
        related: tuple[tuple[Span, str], ...] = (),
        hint: str = "",
    ) -> None:
        super().__init__(message)
        self.diagnostic = Diagnostic(span, code, message, related, hint)


def fact_of(words: Words, first: int) -> Fact:
    """The fact that is told from word number `first` on. Raises Misread."""
    texts = words.texts[first:]
    if not texts:
        raise Misread("E1002", words.span(), "nothing is said to be expected", hint=_FORMS)
    if words.words[first].quoted:
        return _judged(words, first)
    met = texts[0] not in ("no", "not")
    rest = texts if met else texts[1:]
    match rest:
        case ("at", "rest"):
            return Rests(met)
        case ("air", "blowing", "out", "of", port) if is_name(port):
            return Blows(port, met)
        case ("air", "in" | "at", *where) if where:
            return Air("air" if met else "no air", joined(where))
        case ("in-between", "pressure", "in" | "at", *where) if where and met:
            return Air("in-between pressure", joined(where))
        case ("flow" | "vapour", "from", start, "to", end) if is_name(start) and is_name(end):
            return Flows(MEDIA[rest[0]], start, end, met)
    return _stands(words, first, texts)


def _stands(words: Words, first: int, texts: Sequence[str]) -> Stands:
    thing, *rest = texts
    if rest[:1] == ["is"]:
        rest = rest[1:]
    met = rest[:1] != ["not"]
    value = rest if met else rest[1:]
    if not is_name(thing) or not value or not all(map(is_name, value)):
        raise Misread("E1002", words.span(first), "this says nothing to look at", hint=_FORMS)
    return Stands(thing, "_".join(value), met)


def _judged(words: Words, first: int) -> Judged:
    name, *rest = words.texts[first:]
    instance = ""
    if "for" in rest:
        at = rest.index("for")
        rest, instance = rest[:at], joined(rest[at + 1 :])
        if not instance:
            raise Misread("E1002", words.span(first), "for which case?")
    match rest:
        case ["broken"]:
            return Judged(unquoted(name), instance)
        case ["not", "broken"] | ["kept"]:
            return Judged(unquoted(name), instance, met=False)
        case ["reached"]:
            return Judged(unquoted(name), instance, "reached")
        case ["not", "reached"]:
            return Judged(unquoted(name), instance, "reached", met=False)
    hint = 'say `"NAME" broken`, `"NAME" kept` or, of a *possible*, `"NAME" reached`'
    raise Misread("E1002", words.span(first), "what of this property?", hint=hint)
