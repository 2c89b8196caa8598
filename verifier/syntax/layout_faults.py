"""The layout of what is said about faults."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.syntax.document import HARD, SOFT, Doc, commas
from verifier.syntax.layout_conditions import family, mark, measure, quoted, reference
from verifier.syntax.tree import (
    CommonCause,
    ExcludeStatement,
    FaultsAmong,
    FaultsOf,
    Measure,
    PerTime,
    RateStatement,
    Selection,
    TolerateClause,
    WornOut,
)


def fault_statement(item: object) -> list[Doc] | None:
    """A statement of its own about faults; None for any other."""
    if isinstance(item, ExcludeStatement):
        one = len(item.chosen) == 1 and _names_one(item.chosen[0])
        return [
            f"exclude {'fault' if one else 'faults'} ",
            selections(item.chosen),
            SOFT,
            f"because {quoted(item.reason)}",
            SOFT,
            f"source {quoted(item.source)}",
        ]
    if isinstance(item, CommonCause):
        doc: list[Doc] = [] if item.doc is None else [SOFT, quoted(item.doc)]
        source: list[Doc] = [] if item.source is None else [HARD, f"source {quoted(item.source)}"]
        head: list[Doc] = ["common cause ", family(item.family), *doc, ":"]
        return [*head, HARD, selections(item.members), *source]
    if isinstance(item, RateStatement):
        figure: list[Doc] = [mark(item.figure.span), _figure(item.figure)]
        source = [SOFT, f"source {quoted(item.source)}"]
        return ["rate ", selections(item.chosen), ":", SOFT, figure, *source]
    return None


def tolerating(item: TolerateClause) -> Doc:
    if item.most is None:
        return [mark(item.span), "tolerating ", selections(item.chosen)]
    out: list[Doc] = [
        mark(item.span),
        f"tolerating any {item.most} {'fault' if item.most == 1 else 'faults'}",
    ]
    return [*out, SOFT, "of ", selections(item.chosen)] if item.chosen else out


def selections(items: Sequence[Selection]) -> Doc:
    return commas([mark(item.span), _selection(item)] for item in items)


def _selection(item: Selection) -> Doc:
    return _among(item) if isinstance(item, FaultsAmong) else _one(item)


def _names_one(item: Selection) -> bool:
    return isinstance(item, FaultsOf) and (item.label is not None or item.what == "cause")


def _among(item: FaultsAmong) -> Doc:
    group = f"kind {item.kind}" if item.group == "kind" else item.group or ""
    if item.label is None:
        return group
    return f"every {item.label} of {group}" if group else f"every {item.label}"


def _one(item: FaultsOf) -> Doc:
    out: list[Doc] = ["all of "] if item.label is None and item.what != "cause" else []
    out += [] if item.what == "part" else [f"{item.what} "]
    out.append(reference(item.subject))
    out += [] if item.end is None else [" at ", reference(item.end)]
    out += [] if item.label is None else [f" {item.label}"]
    return out if item.torn_at is None else [*out, " at ", reference(item.torn_at)]


def _figure(item: PerTime | Measure | WornOut) -> str:
    if isinstance(item, Measure):
        return measure(item)
    if isinstance(item, PerTime):
        return f"{item.written} per {item.unit}"
    yearly = f"{item.yearly.written} {item.counted} per {item.yearly.unit}"
    return f"B10d {measure(item.cycles)}, {yearly}"
