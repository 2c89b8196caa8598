"""A library's state for people, and as JUnit's XML for build servers."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from xml.etree import ElementTree

from verifier.report.library import EXPLAINED, Examined, LibraryResult, Status
from verifier.report.result import PropertyResult
from verifier.report.story import story_lines
from verifier.report.text import wrapped

# XML 1.0 has no way to write these.
_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


PaintExamined = Callable[[Examined, str], str]
"""Colours the words on how a design stands; the plain one returns them."""


def unpainted(one: Examined, words: str) -> str:
    return words


def line_of(one: Examined, paint: PaintExamined = unpainted) -> str:
    """One line of the table."""
    verdict = f", {one.verdict}" if one.verdict is not None else ""
    by = f" (by {one.by}, {one.date})" if one.by else ""
    reason = f": {one.reason}" if one.reason else ""
    stands = f"{one.status}{verdict}"
    lines = "\n".join(wrapped(f"{one.file}: {stands}{by}{reason}", "", "    "))
    # Painted last, as colours take no room. The words may stand on two lines.
    place = lines.find(stands, len(one.file))
    if place >= 0:
        end = place + len(stands)
        lines = f"{lines[:place]}{paint(one, stands)}{lines[end:]}"
    return f"{lines}\n"


def closing_text(result: LibraryResult) -> str:
    """Stories of what is broken, what statuses mean, how many there are of each, the cautions."""
    lines: list[str] = []
    for one in result.designs:
        for item in one.properties:
            lines += _broken(one, item)
    counts = _counts(result.designs)
    lines.append("")
    for status, count in counts.items():
        lines += wrapped(f"{count:5} {status}: {EXPLAINED[status]}", "", "      ")
    known = f", {result.known} of them from the cache" if result.known else ""
    lines += ["", *wrapped(f"{len(result.designs)} designs{known}.", ""), ""]
    for caution in result.cautions:
        lines += wrapped(caution, "")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _counts(designs: Sequence[Examined]) -> dict[Status, int]:
    counts: dict[Status, int] = {}
    for status in EXPLAINED:
        count = sum(one.status == status for one in designs)
        if count:
            counts[status] = count
    return counts


def _broken(one: Examined, item: PropertyResult) -> Iterator[str]:
    for instance in item.instances:
        if instance.story is not None:
            yield ""
            yield from wrapped(f'{one.file}: {item.form} "{item.name}" is {item.verdict}.', "")
            yield from story_lines(instance.story, wrapped, procedure=item.form == "possible")
            return


def junit(result: LibraryResult) -> bytes:
    """JUnit's XML: a case for each design, which fails unless it is approved and stands; what could
    not be decided is an error."""
    suite = ElementTree.Element("testsuite", name=_clean(result.folder) or "library")
    failures = errors = 0
    for one in result.designs:
        case = ElementTree.SubElement(
            suite, "testcase", classname="shutproof", name=_clean(one.file), time="0"
        )
        if one.status == "approved":
            continue
        undecided = one.status == "failed" or one.verdict == "inconclusive"
        failures, errors = failures + (not undecided), errors + undecided
        kind = "error" if undecided else "failure"
        message = _clean(" ".join(line_of(one).split()))
        told = ElementTree.SubElement(case, kind, message=message, type=one.status)
        lines = [line for item in one.properties for line in _broken(one, item)]
        told.text = _clean("\n".join(lines).strip("\n"))
    suite.set("tests", str(len(result.designs)))
    suite.set("failures", str(failures))
    suite.set("errors", str(errors))
    suite.set("skipped", "0")
    suite.set("time", "0")
    whole = ElementTree.Element("testsuites")
    whole.append(suite)
    ElementTree.indent(whole)
    text: bytes = ElementTree.tostring(whole, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _clean(text: str) -> str:
    """Signs that XML cannot have are told by their numbers."""
    return _NO_XML.sub(lambda found: f"\\u{{{ord(found[0]):x}}}", text)
