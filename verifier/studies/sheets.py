"""A filled-in sheet of a test, as what was done and seen."""

from __future__ import annotations

import csv
import io

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.span import Span
from verifier.report.commission_text import COLUMNS, LISTENING

YES = frozenset({"ok", "yes", "y", "pass", "x", "✓"})
NO = frozenset({"no", "n", "not", "fail", "failed"})


def told_by(text: str, file: str) -> list[tuple[str, str]]:
    """`("did", LINE)` and `("saw", FACT)` in order, up to the last row with a result. Raises
    SourceError for a sheet that is none, or a result that says nothing."""
    rows = list(csv.DictReader(io.StringIO(text)))
    if not rows or not set(COLUMNS) <= set(rows[0]):
        raise _mistake(text, file, 1, f"a sheet has the columns {', '.join(COLUMNS)}")
    filled = [number for number, row in enumerate(rows) if _of(row, "result")]
    if not filled:
        raise _mistake(text, file, 2, "no result is filled in")
    found: list[tuple[str, str]] = []
    step = ""
    for number, row in enumerate(rows[: filled[-1] + 1]):
        if _of(row, "step") != step:
            step = _of(row, "step")
            found += [("did", one.strip()) for one in _of(row, "line of a run").split(";") if one]
        result, said = _of(row, "result"), _of(row, "said so")
        if not result:
            continue
        if result.lower() in YES:
            found.append(("saw", said))
        elif result.lower() not in NO:
            found.append(("saw", result))
        elif said == LISTENING:
            told = "say where air blows out: `air blowing out of PORT` or `air blowing at LINE`"
            raise _mistake(text, file, number + 2, told)
        else:
            found.append(("saw", _not(said)))
    return found


def _of(row: dict[str, str], column: str) -> str:
    return (row.get(column) or "").strip()


def _not(said: str) -> str:
    """The opposite of a fact."""
    if said.startswith("no "):
        return said.removeprefix("no ")
    if said.startswith(("flow ", "air ")):
        return f"no {said}"
    thing, _, value = said.partition(" ")
    return f"{thing} not {value}"


def _mistake(text: str, file: str, line: int, told: str) -> SourceError:
    found = Diagnostic(Span(file, line, 1, line, 2), "E1002", told)
    return SourceError((found,), {file: text})
