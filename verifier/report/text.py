"""The report for people: plain text, 80 columns, the same with and without a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator

from verifier.report.core import core_lines, unneeded_lines
from verifier.report.race import race_lines
from verifier.report.result import (
    SEVERITY,
    DesignResult,
    InstanceResult,
    Modelling,
    PropertyResult,
    Result,
    Translations,
    Verdict,
)
from verifier.report.story import story_lines
from verifier.report.tolerance import fault_lines
from verifier.report.witness import witness_lines

WIDTH = 80
MOST_NAMED = 8

UNTOLD = "What the properties that hold speak of does happen (--witness tells how)."

Paint = Callable[[Verdict, str], str]
"""Colours a word for the verdict that it stands for; the plain one returns the word."""


def plain(verdict: Verdict, word: str) -> str:
    return word


def wrapped(text: str, indent: str, hanging: str = "") -> list[str]:
    """Lines of at most WIDTH columns; `indent` before each, `hanging` more after the first."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + hanging,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [indent.rstrip()]


def design_text(design: DesignResult, paint: Paint = plain, *, witness: bool = False) -> str:
    """One design: its verdicts, the stories, the assumptions behind them. Ends in a newline.

    witness: tell those of what holds, too."""
    lines = list(_design_lines(design, paint, witness))
    return "\n".join(line.rstrip() for line in lines) + "\n"


def closing_text(result: Result, *, witness: bool = True) -> str:
    """What stands once after all designs: that witnesses were not told, and the cautions. Empty
    when nothing was proved."""
    if not result.designs:
        return ""
    lines = [""]
    properties = (item for design in result.designs for item in design.properties)
    if not witness and any(one.witnesses for item in properties for one in item.instances):
        lines += [*wrapped(UNTOLD, ""), ""]
    for caution in result.cautions:
        lines += wrapped(caution, "")
    return "\n".join(lines) + "\n"


def _design_lines(design: DesignResult, paint: Paint, witness: bool) -> Iterator[str]:
    title = f"{design.design}: {design.title}" if design.title else design.design
    revision = f", revision {design.revision}" if design.revision else ""
    yield from wrapped(title + revision, "", "  ")
    yield f"  {design.file}"
    told = False
    for item in design.properties:
        lines = list(_property_lines(item, paint))
        if witness:
            lines += witness_lines(item, wrapped)
        # A property with a story stands by itself, verdicts alone stand together.
        if told or len(lines) > 3 or item is design.properties[0]:
            yield ""
        told = len(lines) > 3
        yield from lines
    yield ""
    for note in design.notes:
        yield from wrapped(f"{note[:1].upper()}{note[1:]}.", "")
        yield ""
    yield from unneeded_lines(design, wrapped)
    yield from _assumed(design)
    if design.translations is not None:
        yield from _translated(design.translations)
        yield ""
    yield from wrapped(_summary(design), "", "  ")


def _translated(translations: Translations) -> list[str]:
    """Whether both translations of the circuit say the same."""
    count = len(translations.open)
    if not count:
        return wrapped("Both translations of the circuit into formulas agree.", "")
    shown = "; ".join(translations.open[:MOST_NAMED])
    more = f" and {count - MOST_NAMED} more" if count > MOST_NAMED else ""
    told = f"It is open whether both translations of the circuit into formulas agree on {shown}"
    return wrapped(f"{told}{more}.", "")


def _property_lines(item: PropertyResult, paint: Paint) -> Iterator[str]:
    name = item.name if item.free else f'{item.form} "{item.name}"'
    column = f"  {paint(item.verdict, item.verdict)}{' ' * max(13 - len(item.verdict), 2)}"
    first, *rest = wrapped(f"{name}{scope_of(item)}", " " * 15)
    yield column + first.lstrip()
    yield from rest
    yield from fault_lines(item, wrapped)
    if item.reason:
        yield from wrapped(item.reason, " " * 6)
    for used in item.assumptions:
        yield from wrapped(f'assumed: "{used.name}", because {used.reason}', " " * 6, "  ")
    yield from core_lines(item, wrapped)
    yield from _accepted(item)
    told, others = members_told(item)
    for instance in told:
        yield from _instance_lines(item, instance)
    for line in also_told(item, others):
        yield from wrapped(line, " " * 4, "  ")


def _accepted(item: PropertyResult) -> Iterator[str]:
    """Races that the design accepts, by reason; those that are not there; whether others are."""
    reasons = dict.fromkeys(one.accepted for one in item.instances if one.accepted)
    for reason in reasons:
        labels = [one.label for one in item.instances if one.accepted == reason]
        yield from wrapped(f"accepted for {', '.join(labels)}: {reason}", " " * 6, "  ")
    for words in item.unmet:
        proved = item.verdict == "holds"
        lacking = "there is no such race" if proved else "no such race was found"
        yield from wrapped(f"warning: it accepts a {words}, and {lacking}.", " " * 6, "  ")
    if item.others == "none":
        yield from wrapped("Proved: there is no race but those that are accepted.", " " * 6)
    elif item.others == "open":
        told = "It is open whether there are other races than those that are accepted."
        yield from wrapped(told, " " * 6)


def scope_of(item: PropertyResult) -> str:
    """At which moments, and for how many members."""
    if item.free or item.form == "recovers":
        moment = ""
    else:
        moment = ", at rest" if item.moment == "at_rest" else ", at every moment"
    count = len(item.instances)
    return f"{moment}{f', {count} cases' if count > 1 else ''}"


def members_told(item: PropertyResult) -> tuple[list[InstanceResult], list[InstanceResult]]:
    """The members that are told in full, and those that are only named.

    Told are those with a story; where none of a verdict has one, the first. Members that hold are
    not told, but for those of a *possible*, which hold because of a story.
    """
    speaking = [one for one in item.instances if one.verdict != "holds" or item.form == "possible"]
    told: list[InstanceResult] = []
    for verdict in SEVERITY:
        alike = [one for one in speaking if one.verdict == verdict]
        told += [one for one in alike if one.story or one.race] or alike[:1]
    return told, [one for one in speaking if one not in told]


def also_told(item: PropertyResult, others: list[InstanceResult]) -> Iterator[str]:
    """Names the members that are not told in full, by verdict."""
    for verdict in SEVERITY:
        labels = [one.label for one in others if one.verdict == verdict]
        if labels:
            what = "possible" if verdict == "holds" else verdict
            named = "; ".join(label.replace(" = ", "=") for label in labels[:MOST_NAMED])
            more = len(labels) - MOST_NAMED
            rest = f" and {more} more" if more > 0 else ""
            yield f"Also {what} for {named}{rest} (--all tells how)."


def _instance_lines(item: PropertyResult, instance: InstanceResult) -> Iterator[str]:
    if instance.label:
        mark = "" if instance.verdict == item.verdict else f" ({instance.verdict})"
        yield from wrapped(f"for {instance.label}{mark}:", " " * 4)
    if instance.reason:
        yield from wrapped(instance.reason, " " * 6)
    if instance.race is not None:
        yield from race_lines(instance.race, wrapped)
    if instance.story is None:
        return
    yield from story_lines(instance.story, wrapped, procedure=item.form == "possible")


def _assumed(design: DesignResult) -> Iterator[str]:
    """Modelling assumptions, once a design: they are the same sentences for each property."""
    if not design.modelling:
        return
    yield "These verdicts rest on:"
    for assumption in design.modelling:
        yield from wrapped(_modelled(design, assumption), "  ", "  ")
    yield ""


def _modelled(design: DesignResult, assumption: Modelling) -> str:
    users = [item for item in design.properties if assumption.name in item.modelling]
    scope = "" if len(users) == len(design.properties) else f" (for {', '.join(_names(users))})"
    return f"{assumption.name}: {assumption.says}{scope}"


def _names(items: Iterable[PropertyResult]) -> Iterator[str]:
    return (item.name if item.free else f'"{item.name}"' for item in items)


def _summary(design: DesignResult) -> str:
    """How many properties got which verdict."""
    total = len(design.properties)
    properties = f"{design.design}: {total} {'property' if total == 1 else 'properties'}"
    counts = {
        verdict: sum(item.verdict == verdict for item in design.properties) for verdict in SEVERITY
    }
    told = [
        f"{count} {'hold' if verdict == 'holds' and count > 1 else verdict}"
        for verdict, count in counts.items()
        if count
    ]
    return f"{properties}, {', '.join(told)}."
