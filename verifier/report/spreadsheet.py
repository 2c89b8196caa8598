"""Tables for spreadsheets: RFC 4180, and no cell that a spreadsheet would take for a formula."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence

# Signs that begin a formula, in spreadsheets that look past spaces and controls, too; the last
# four are their full-width forms.
FORMULA = re.compile(r"^[\s\x00-\x1f]*[=+\-@|%\uff1d\uff0b\uff0d\uff20]")


def safe(cell: str) -> str:
    """The cell as text: an apostrophe keeps a spreadsheet from calculating it."""
    return f"'{cell}" if FORMULA.match(cell) or cell[:1] in ("\t", "\r", "\n", "'") else cell


def plain_cell(cell: str) -> str:
    """Back from `safe`, for tables that come back filled in."""
    return cell[1:] if cell.startswith("'") else cell


def table(rows: Iterable[Sequence[str]]) -> bytes:
    """UTF-8 with a mark by which spreadsheets know it, lines that end as the RFC says."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    for row in rows:
        writer.writerow([safe(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig")
