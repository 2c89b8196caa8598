"""What is wrong with designs in SARIF 2.1.0, the format in which code hosts show findings.

A result for each property that does not hold, at its place in the design, and the story as a code
flow: a step for each event, at the line of the part that it is about. A result for each mistake of
a source that is no design, and for each design of a library that does not stand as it was approved.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from importlib.metadata import version
from typing import Any
from urllib.parse import quote

import msgspec

from verifier.diagnostics.span import Span
from verifier.report.library import EXPLAINED, Examined, LibraryResult
from verifier.report.result import (
    Event,
    InstanceResult,
    Mistake,
    PropertyResult,
    Refused,
    Result,
    Story,
    Verdict,
    only_accepted,
)

SCHEMA = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
NAME = "shutproof"

Json = dict[str, Any]
Level = str

_VERDICTS: dict[Verdict, tuple[Level, str]] = {
    "violated": ("error", "A property of a design is violated."),
    "vacuous": ("error", "What a property speaks of can never happen."),
    "inconclusive": ("warning", "A property could be neither proved nor broken."),
    "delay dependent": ("note", "Where a design comes to rest depends on what moves first."),
}
_MISTAKE = "invalid design"


def sarif_of_result(result: Result) -> bytes:
    """Of one call of `shutproof prove`."""
    found: list[Json] = []
    for design in result.designs:
        found += _of_properties(design.file, design.properties)
        found += (_of_mistake(one) for one in design.warnings)
    for refused in result.refused:
        found += _of_refused(refused)
    return _log(found)


def sarif_of_library(result: LibraryResult) -> bytes:
    """Of one call of `shutproof regress`, with places told from the folder that was looked at."""
    found: list[Json] = []
    for one in result.designs:
        found += _of_examined(one)
    return _log(found)


# ---- results
def _of_properties(file: str, properties: Iterable[PropertyResult]) -> Iterator[Json]:
    for item in properties:
        if item.verdict == "holds" or (item.free and only_accepted(item)):
            continue
        level, _ = _VERDICTS[item.verdict]
        told = next((one for one in item.instances if one.verdict == item.verdict), None)
        told = next((one for one in item.instances if one.story or one.race), told)
        label = f" [{told.label}]" if told is not None and told.label else ""
        words = f'{item.form} "{item.name}"{label}: {item.verdict}.'
        why = "" if told is None else _why(item, told)
        yield {
            **_rule(item.verdict),
            "level": level,
            "message": {"text": f"{words} {why}".strip()},
            "locations": [_place(file, item.span)],
            "partialFingerprints": {"property/v1": f"{item.form}: {item.name}"},
            **_flows(file, item, told),
        }


def _why(item: PropertyResult, told: InstanceResult) -> str:
    if told.story is not None:
        return told.story.outcome
    return told.race.outcome if told.race is not None else told.reason or item.reason


def _flows(file: str, item: PropertyResult, told: InstanceResult | None) -> Json:
    """The story as one flow; of a race, both ways as a flow each."""
    if told is None:
        return {}
    if told.story is not None:
        return {"codeFlows": [_flow(file, item.span, told.story.events, told.story)]}
    if told.race is None:
        return {}
    race = told.race
    flows = []
    for way in (race.first, race.second):
        flow = _flow(file, item.span, (*race.shared, *way.events), None)
        flow["message"] = {"text": way.words}
        flows.append(flow)
    return {"codeFlows": flows}


def _flow(file: str, span: Span | None, events: Sequence[Event], story: Story | None) -> Json:
    steps = [_step(file, event) for event in events]
    if story is not None:
        steps.append({"location": {**_place(file, span), "message": {"text": story.outcome}}})
    elif not steps:
        steps.append({"location": _place(file, span)})
    return {"threadFlows": [{"locations": steps}]}


def _step(file: str, event: Event) -> Json:
    because = f": {event.cause}" if event.cause else ""
    return {
        "location": {
            **_place(file, event.span),
            "message": {"text": f"{event.step}. {event.words}{because}"},
        },
        "executionOrder": event.step,
        "importance": "essential" if event.by in ("operator", "surroundings") else "important",
        "kinds": [event.by],
    }


def _of_refused(refused: Refused) -> Iterator[Json]:
    if refused.limit:
        yield {
            **_rule(_MISTAKE),
            "level": "error",
            "message": {"text": refused.limit},
            "locations": [_place(refused.file, None)],
        }
    for mistake in refused.mistakes:
        yield _of_mistake(mistake)


def _of_mistake(mistake: Mistake) -> Json:
    hint = f" {mistake.hint}" if mistake.hint else ""
    related = [
        {**_place(one.span.file, one.span), "id": number, "message": {"text": one.message}}
        for number, one in enumerate(mistake.related)
    ]
    return {
        **_rule(mistake.code),
        "level": mistake.severity,
        "message": {"text": f"{mistake.message}.{hint}"},
        "locations": [_place(mistake.span.file, mistake.span)],
        **({"relatedLocations": related} if related else {}),
    }


def _of_examined(one: Examined) -> Iterator[Json]:
    yield from _of_properties(one.file, one.properties)
    if one.refused is not None:
        yield from _of_refused(one.refused)
    if one.status == "approved" or (one.status == "invalid" and one.refused is not None):
        return
    reason = f": {one.reason}" if one.reason else ""
    undecided = one.status == "failed" or one.verdict == "inconclusive"
    yield {
        **_rule(one.status),
        "level": "warning" if undecided else "error",
        "message": {"text": f"{one.status}{reason} ({EXPLAINED[one.status]})"},
        "locations": [_place(one.file, None)],
    }


# ---- places
def _place(file: str, span: Span | None) -> Json:
    """In a file; of a span elsewhere (the catalogue) the name of that."""
    place: Json = {"artifactLocation": {"uri": uri_of(file if span is None else span.file)}}
    if span is not None:
        place["region"] = {
            "startLine": span.line,
            "startColumn": span.column,
            "endLine": span.end_line,
            "endColumn": span.end_column,
        }
    return {"physicalLocation": place}


def uri_of(file: str) -> str:
    """A relative reference, or a file URI; whatever signs the name has."""
    name = quote(file.encode("utf-8", "surrogateescape"), safe="/")
    return f"file://{name}" if name.startswith("/") else name


# ---- the whole
def _rule(name: str) -> Json:
    return {"ruleId": name}


def _log(results: Sequence[Json]) -> bytes:
    names = dict.fromkeys(one["ruleId"] for one in results)
    rules = [{"id": name, "shortDescription": {"text": _about(name)}} for name in names]
    places = {name: place for place, name in enumerate(names)}
    log = {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {"driver": {"name": NAME, "version": version(NAME), "rules": rules}},
                "columnKind": "unicodeCodePoints",
                "results": [{**one, "ruleIndex": places[one["ruleId"]]} for one in results],
            }
        ],
    }
    return msgspec.json.format(msgspec.json.encode(_plain(log)), indent=2) + b"\n"


def _about(name: str) -> str:
    known: Mapping[str, str] = {
        **{verdict: words for verdict, (_, words) in _VERDICTS.items()},
        **{status: f"A design of the library: {words}." for status, words in EXPLAINED.items()},
        _MISTAKE: "A source that is no valid design.",
    }
    return known.get(name, f"{name}, explained in the reference of the language.")


def _plain(value: Any) -> Any:
    """Names of files may have bytes that are no text; those are spelt out."""
    if isinstance(value, str):
        return value.encode("utf-8", "backslashreplace").decode("utf-8")
    if isinstance(value, dict):
        return {name: _plain(inner) for name, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    return value
