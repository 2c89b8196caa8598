"""Answers as a stream: what `shutproof prove --json-lines` prints, one JSON text a line."""

from __future__ import annotations

from typing import Literal

import msgspec
from msgspec import Struct

from verifier.report.result import DesignResult, PropertyResult, Refused, Result


class PropertyLine(Struct, frozen=True, tag_field="line", tag="property"):
    """A property, as soon as it is decided; without witnesses and core."""

    file: str
    design: str
    property: PropertyResult


class DesignLine(Struct, frozen=True, tag_field="line", tag="design"):
    """A design, after all its properties, which may have got witnesses and cores since."""

    result: DesignResult


class RefusedLine(Struct, frozen=True, tag_field="line", tag="refused"):
    """A file that is no valid design."""

    refused: Refused


class EndLine(Struct, frozen=True, tag_field="line", tag="end"):
    """The last line. Where it is missing, the command did not come to its end, and nothing that it
    printed counts."""

    exit_status: Literal[0, 1, 2, 3]
    cautions: tuple[str, ...]
    format: Literal["shutproof lines"] = "shutproof lines"
    version: Literal[1] = 1

    @classmethod
    def of(cls, result: Result) -> EndLine:
        return cls(result.exit_status, result.cautions)


Line = PropertyLine | DesignLine | RefusedLine | EndLine


def line_text(line: Line) -> bytes:
    """JSON in UTF-8 without line ends, and one at the end."""
    return msgspec.json.encode(line) + b"\n"
